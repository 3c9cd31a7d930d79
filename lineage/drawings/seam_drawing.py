"""Seam lines as paths of an SVG drawing, mm, each named as its edge: `piece.edge`.

Where darts part an edge it is `piece.edge.1`, `.2` and so on in ring order; a dart is
`piece.dart.NAME`: leg, tip, leg; a double-pointed one all round.
"""

from collections.abc import Iterable
from xml.etree import ElementTree

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.piece import Piece
from trueup.lineage.drawings.safe_svg import SVG


def page(width: float, height: float, title: str) -> ElementTree.Element:
    """Return the root of a drawing so many mm wide and high."""
    attributes = {
        "xmlns": SVG,
        "width": f"{number(width)}mm",
        "height": f"{number(height)}mm",
        "viewBox": f"0 0 {number(width)} {number(height)}",
        "fill": "none",
        "stroke": "black",
        "stroke-width": "0.35",
    }
    root = ElementTree.Element("svg", attributes)
    ElementTree.SubElement(root, "title").text = title
    return root


def draw_seams(group: ElementTree.Element, piece: Piece) -> None:
    """Add the seam lines and darts of a piece in its own frame, each a path of its name."""
    for edge in piece.edges:
        name = f"{piece.name}.{edge.name}"
        for count, part in enumerate(edge.parts, start=1):
            path(group, f"{name}.{count}" if edge.darts else name, _curves(part))
        for mouth in edge.mouths:
            legs = lines((mouth.first, mouth.tip, mouth.second))
            path(group, f"{piece.name}.dart.{mouth.dart.name}", legs)
    for dart in piece.inner_darts:
        around = lines((dart.upper, dart.right, dart.lower, dart.left))
        path(group, f"{piece.name}.dart.{dart.name}", f"{around} Z")


def path(group: ElementTree.Element, name: str, drawn: str) -> ElementTree.Element:
    """Add a path of a name and return it."""
    return ElementTree.SubElement(group, "path", {"id": name, "d": drawn})


def _curves(chain: Chain) -> str:
    curves = (
        "C " + " ".join(_point(p) for p in (c.start_control, c.end_control, c.end))
        for c in chain.cubics
    )
    return f"M {_point(chain.start)} {' '.join(curves)}"


def lines(points: Iterable[Point]) -> str:
    """Return path data of the straight lines from point to point."""
    return "M " + " L ".join(_point(p) for p in points)


def _point(point: Point) -> str:
    return f"{number(point.real)},{number(point.imag)}"


def number(amount: float) -> str:
    """Return a number as path data has it, to a millionth of a mm."""
    # Plus zero after rounding, so that no -0.000000 is written.
    return f"{round(amount, 6) + 0.0:.6f}"
