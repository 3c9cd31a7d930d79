"""A draft as a plain SVG at true scale: one unit is one millimetre, for any tool to measure.

Every edge is one path with the id `piece.edge`; where darts part it, `piece.edge.1`, `.2` and so
on in ring order. Darts are `piece.dart.NAME`: leg, tip, leg; a double-pointed one all round.
Coordinates are on the page as they stand, with no transforms.
Format: W3C, Scalable Vector Graphics (SVG) 1.1 (Second Edition).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from xml.etree import ElementTree

from geometry.chain import Chain
from geometry.draft import Draft
from geometry.piece import Edge, Grainline, InnerDart, Mouth, Notch, Piece
from geometry.points import Motion, Point, unit

MARGIN = 10.0
GAP = 30.0
NOTCH = 5.0
ARROW = 4.0
LETTERS = 8.0

_DECLARATION = '<?xml version="1.0" encoding="UTF-8"?>\n'
_ON_FOLD = "12 3 3 3"
_BEYOND_XML = dict.fromkeys(
    [*range(0x20), *range(0x7F, 0xA0), *range(0xD800, 0xE000), 0xFFFE, 0xFFFF],
    "\N{REPLACEMENT CHARACTER}",
)


@dataclass(frozen=True)
class _Box:
    left: float
    top: float
    right: float
    bottom: float


def draft_svg(draft: Draft, title: str) -> str:
    """Return a draft as the text of an SVG document, its pieces side by side, lengths in mm."""
    placed, right, bottom = [], MARGIN, MARGIN
    for piece in draft.pieces:
        box = _bounds(piece)
        placed.append((piece, Motion(shift=complex(right - box.left, MARGIN - box.top))))
        right += box.right - box.left + GAP
        bottom = max(bottom, MARGIN + box.bottom - box.top)
    width = right - GAP + MARGIN if draft.pieces else 2 * MARGIN
    root = _page(width, bottom + MARGIN, title)
    for piece, motion in placed:
        _draw_piece(root, piece, motion)
    ElementTree.indent(root)
    return _DECLARATION + ElementTree.tostring(root, encoding="unicode") + "\n"


def _page(width: float, height: float, title: str) -> ElementTree.Element:
    root = ElementTree.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "width": f"{width:.6f}mm",
            "height": f"{height:.6f}mm",
            "viewBox": f"0 0 {width:.6f} {height:.6f}",
            "fill": "none",
            "stroke": "black",
            "stroke-width": "0.35",
            "stroke-linecap": "round",
            "stroke-linejoin": "round",
        },
    )
    ElementTree.SubElement(root, "title").text = _clean(title)
    return root


def _bounds(piece: Piece) -> _Box:
    points = list(piece.outline_points)
    for dart in piece.inner_darts:
        points += [dart.upper, dart.lower, dart.left, dart.right]
    if piece.grainline:
        points += [piece.grainline.start, piece.grainline.end]
    across, down = [p.real for p in points], [p.imag for p in points]
    return _Box(min(across), min(down), max(across), max(down))


def _draw_piece(root: ElementTree.Element, piece: Piece, motion: Motion) -> None:
    group = ElementTree.SubElement(root, "g", {"id": _clean(piece.name)})
    for edge in piece.edges:
        _draw_edge(group, piece, edge, motion)
        for mouth in edge.mouths:
            _draw_dart(group, piece, mouth, motion)
    for dart in piece.inner_darts:
        _draw_inner_dart(group, piece, dart, motion)
    for notch in piece.notches:
        _draw_notch(group, piece, notch, motion)
    if piece.grainline:
        _draw_grainline(group, piece, piece.grainline, motion)
    _write_name(group, piece, motion)


def _draw_edge(group: ElementTree.Element, piece: Piece, edge: Edge, motion: Motion) -> None:
    name = f"{piece.name}.{edge.name}"
    for number, part in enumerate(edge.parts, start=1):
        drawn = _path(group, name if not edge.darts else f"{name}.{number}", _curves(part, motion))
        if piece.fold == edge.name:
            drawn.set("stroke-dasharray", _ON_FOLD)


def _draw_dart(group: ElementTree.Element, piece: Piece, mouth: Mouth, motion: Motion) -> None:
    points = [motion(p) for p in (mouth.first, mouth.tip, mouth.second)]
    _path(group, f"{piece.name}.dart.{mouth.dart.name}", _lines(points))


def _draw_inner_dart(
    group: ElementTree.Element, piece: Piece, dart: InnerDart, motion: Motion
) -> None:
    points = [motion(p) for p in (dart.upper, dart.right, dart.lower, dart.left)]
    _path(group, f"{piece.name}.dart.{dart.name}", f"{_lines(points)} Z")


def _draw_notch(group: ElementTree.Element, piece: Piece, notch: Notch, motion: Motion) -> None:
    edge = piece.edge(notch.edge)
    place, travel = _on_edge(edge, notch.at.along(edge))
    points = [motion(place), motion(place + travel * piece.inward * NOTCH)]
    _path(group, f"{piece.name}.notch.{notch.name}", _lines(points))


def _on_edge(edge: Edge, along: float) -> tuple[Point, complex]:
    """Return the point so many sewn mm along an edge, and the direction of travel there."""
    part = edge.parts[0]
    for part in edge.parts:
        if along <= part.length:
            break
        along -= part.length
    return part.point_at(along), part.tangent_at(along)


def _draw_grainline(
    group: ElementTree.Element, piece: Piece, grainline: Grainline, motion: Motion
) -> None:
    start, end = motion(grainline.start), motion(grainline.end)
    drawn = [_lines([start, end])]
    if start != end:
        back = unit(start - end) * ARROW
        for tip, into in ((start, -back), (end, back)):
            barbs = [tip + into * complex(1, side) for side in (0.4, -0.4)]
            drawn.append(_lines([barbs[0], tip, barbs[1]]))
    _path(group, f"{piece.name}.grainline", " ".join(drawn))


def _write_name(group: ElementTree.Element, piece: Piece, motion: Motion) -> None:
    place = motion(_name_place(piece))
    label = ElementTree.SubElement(
        group,
        "text",
        {
            "x": _number(place.real),
            "y": _number(place.imag),
            "font-family": "sans-serif",
            "font-size": f"{LETTERS:g}",
            "fill": "black",
            "stroke": "none",
        },
    )
    label.text = _clean(piece.name)


def _name_place(piece: Piece) -> Point:
    """Return where the name starts: beside the grainline, or anywhere on the cloth without one."""
    if piece.grainline:
        return (piece.grainline.start + piece.grainline.end) / 2 + LETTERS / 2
    inside = piece.cloth.representative_point()
    return complex(inside.x, inside.y)


def _path(group: ElementTree.Element, name: str, drawn: str) -> ElementTree.Element:
    return ElementTree.SubElement(group, "path", {"id": _clean(name), "d": drawn})


def _curves(chain: Chain, motion: Motion) -> str:
    curves = [
        "C " + " ".join(_point(motion(p)) for p in (c.start_control, c.end_control, c.end))
        for c in chain.cubics
    ]
    return f"M {_point(motion(chain.start))} {' '.join(curves)}"


def _lines(points: Sequence[Point]) -> str:
    return "M " + " L ".join(_point(p) for p in points)


def _point(point: Point) -> str:
    return f"{_number(point.real)},{_number(point.imag)}"


def _number(amount: float) -> str:
    # Plus zero after rounding, so that no -0.000000 is written.
    return f"{round(amount, 6) + 0.0:.6f}"


def _clean(text: str) -> str:
    """Return a text with what XML cannot hold, escaped or not, replaced."""
    return text.translate(_BEYOND_XML)
