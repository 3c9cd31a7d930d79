"""The path data of the shapes of SVG that are no paths: rectangles, circles, lines."""

from xml.etree import ElementTree

from trueup.lineage.drawings.safe_svg import local
from trueup.lineage.drawings.shapes.svg.page_size import in_units


def path_data(element: ElementTree.Element, place: str) -> str:
    """Return what a shape draws, as path data in units of the drawing; raises BadRecord.

    Source: W3C, SVG 1.1 (Second Edition), 9 basic shapes.
    """
    kind = local(element)
    drawn = ""
    match kind:
        case "path":
            drawn = element.get("d", "")
        case "line":
            x1, y1, x2, y2 = (_amount(element, word, place) for word in ("x1", "y1", "x2", "y2"))
            drawn = f"M {x1} {y1} L {x2} {y2}"
        case "polyline" | "polygon":
            points = element.get("points", "").strip()
            drawn = f"M {points}{' Z' if kind == 'polygon' else ''}" if points else ""
        case "rect":
            drawn = _rectangle(element, place)
        case "circle" | "ellipse":
            both = "r" if kind == "circle" else ""
            cx, cy, rx, ry = (
                _amount(element, word, place) for word in ("cx", "cy", both or "rx", both or "ry")
            )
            if float(rx) > 0 and float(ry) > 0:
                x, far = _text(float(cx) - float(rx)), _text(2 * float(rx))
                drawn = f"M {x} {cy} a {rx} {ry} 0 1 0 {far} 0 a {rx} {ry} 0 1 0 -{far} 0 Z"
    return drawn


def _rectangle(element: ElementTree.Element, place: str) -> str:
    x, y, wide, high = (
        in_units(element.get(word), place) for word in ("x", "y", "width", "height")
    )
    if wide <= 0 or high <= 0:
        return ""
    rx, ry = (in_units(element.get(word), place, -1.0) for word in ("rx", "ry"))
    rx, ry = (rx if rx >= 0 else max(ry, 0.0)), (ry if ry >= 0 else max(rx, 0.0))
    rx, ry = min(rx, wide / 2), min(ry, high / 2)
    if not (rx and ry):
        return f"M {_text(x)} {_text(y)} h {_text(wide)} v {_text(high)} h {_text(-wide)} Z"
    across, down = _text(wide - 2 * rx), _text(high - 2 * ry)
    r = f"a {_text(rx)} {_text(ry)} 0 0 1"
    right, below = _text(rx), _text(ry)
    return (
        f"M {_text(x + rx)} {_text(y)} h {across} {r} {right} {below} v {down} "
        f"{r} -{right} {below} h -{across} {r} -{right} -{below} v -{down} {r} {right} -{below} Z"
    )


def _amount(element: ElementTree.Element, word: str, place: str) -> str:
    return _text(in_units(element.get(word), place))


def _text(amount: float) -> str:
    return f"{amount:.12f}"
