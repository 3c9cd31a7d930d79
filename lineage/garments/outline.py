"""The outline a garment was cut by, as a plain SVG beside its record: cut cloth is a fact.

Lengths are mm. Every piece is a group, in which `piece.cut` is the outline of the cloth, closed,
and each seam edge a path of its own as in any drawing of a draft: `piece.edge`, or `piece.edge.1`,
`.2` where darts part it, and `piece.dart.NAME`. The paths stand in the pattern's own frame, so that
they compare with it as they are; a group is only laid beside the others by a `translate`.
Format: W3C, Scalable Vector Graphics (SVG) 1.1 (Second Edition).
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from xml.etree import ElementTree

from defusedxml import DefusedXmlException
from defusedxml.ElementTree import fromstring
from fontTools.pens.basePen import BasePen
from fontTools.svgLib.path import parse_path
from shapely.geometry import Polygon

from geometry.chain import Chain
from geometry.cubic import Cubic
from geometry.draft import Draft
from geometry.piece import Piece
from geometry.points import Point
from geometry.tolerance import FLATTEN
from lineage.errors import BadRecord
from lineage.reading import LARGEST_FILE

MOST_ELEMENTS = 5_000
"""No drawing of a garment holds more parts: twenty pieces of fifty edges are a fifth of it."""

MOST_POINTS = 50_000
"""No outline has more points; a sleeve flattened as finely as we cut has a few hundred."""

FARTHEST = 100_000.0
"""No point lies farther out, mm: ten times the largest length a maker may write."""

_SVG = "http://www.w3.org/2000/svg"
_CUT = ".cut"
_MARGIN = 10.0
_GAP = 30.0
# The parser of path data takes numbers as CSS writes them and passes over what is none, so that
# "1.e5" or "nan" would be read as another path; whatever is not of this form is refused before.
# Every part is possessive: there is one way to read a text, and none is tried twice.
_NUMBER = (
    r"[-+]?+(?>(?>0(?![0-9])|[1-9][0-9]*+)(?>\.[0-9]++)?+|\.[0-9]++)(?>[eE][-+]?+[0-9]{1,3}+)?+"
)
_PATH = re.compile(rf"(?>[MLHVCSQTZmlhvcsqtz]|{_NUMBER}(?![.])|[ ,\t\r\n])*+")
_TRANSLATE = re.compile(rf"translate\({_NUMBER}[ ,]{_NUMBER}\)")


def outline_svg(draft: Draft, cloth: Mapping[str, Polygon], title: str) -> bytes:
    """Return the drawing of cut pieces: `cloth` is the outline of each, in the draft's frame."""
    shifts, right, height = {}, _MARGIN, 0.0
    for piece in draft.pieces:
        left, top, far, bottom = cloth[piece.name].bounds
        shifts[piece.name] = complex(right - left, _MARGIN - top)
        right += far - left + _GAP
        height = max(height, bottom - top)
    root = _page(max(right - _GAP, 0.0) + _MARGIN, height + 2 * _MARGIN, title)
    for piece in draft.pieces:
        shift = shifts[piece.name]
        place = f"translate({_number(shift.real)} {_number(shift.imag)})"
        group = ElementTree.SubElement(root, "g", {"id": piece.name, "transform": place})
        outline = [complex(x, y) for x, y in cloth[piece.name].exterior.coords[:-1]]
        _path(group, f"{piece.name}{_CUT}", f"{_lines(outline)} Z").set("stroke-width", "0.7")
        _draw_seams(group, piece)
    ElementTree.indent(root)
    return b'<?xml version="1.0" encoding="UTF-8"?>\n' + ElementTree.tostring(root) + b"\n"


def _page(width: float, height: float, title: str) -> ElementTree.Element:
    page = {
        "xmlns": _SVG,
        "width": f"{_number(width)}mm",
        "height": f"{_number(height)}mm",
        "viewBox": f"0 0 {_number(width)} {_number(height)}",
        "fill": "none",
        "stroke": "black",
        "stroke-width": "0.35",
    }
    root = ElementTree.Element("svg", page)
    ElementTree.SubElement(root, "title").text = title
    return root


def _draw_seams(group: ElementTree.Element, piece: Piece) -> None:
    for edge in piece.edges:
        name = f"{piece.name}.{edge.name}"
        for number, part in enumerate(edge.parts, start=1):
            _path(group, f"{name}.{number}" if edge.darts else name, _curves(part))
        for mouth in edge.mouths:
            legs = _lines((mouth.first, mouth.tip, mouth.second))
            _path(group, f"{piece.name}.dart.{mouth.dart.name}", legs)
    for dart in piece.inner_darts:
        around = _lines((dart.upper, dart.right, dart.lower, dart.left))
        _path(group, f"{piece.name}.dart.{dart.name}", f"{around} Z")


def _path(group: ElementTree.Element, name: str, drawn: str) -> ElementTree.Element:
    return ElementTree.SubElement(group, "path", {"id": name, "d": drawn})


def _curves(chain: Chain) -> str:
    curves = (
        "C " + " ".join(_point(p) for p in (c.start_control, c.end_control, c.end))
        for c in chain.cubics
    )
    return f"M {_point(chain.start)} {' '.join(curves)}"


def _lines(points: Iterable[Point]) -> str:
    return "M " + " L ".join(_point(p) for p in points)


def _point(point: Point) -> str:
    return f"{_number(point.real)},{_number(point.imag)}"


def _number(amount: float) -> str:
    # Plus zero after rounding, so that no -0.000000 is written.
    return f"{round(amount, 6) + 0.0:.6f}"


def read_outline(content: bytes, place: str = "the outline") -> dict[str, Polygon]:
    """Return the cloth of each piece, mm, in the pattern's frame, from the drawing of a garment.

    `place` is what a message calls the file. Nothing outside the file is ever read, and entities
    are refused. Raises BadRecord for what is no such drawing.
    """
    found: dict[str, Polygon] = {}
    for element in _elements(content, place):
        name = element.get("id", "")
        moved = element.get("transform")
        if moved and not (_local(element) == "g" and _TRANSLATE.fullmatch(moved)):
            raise BadRecord(place, "a part of it is moved by more than a translate of a group")
        if _local(element) != "path" or not name.endswith(_CUT):
            continue
        piece = name.removesuffix(_CUT)
        if piece in found:
            raise BadRecord(place, "an outline stands in it twice", field=name)
        found[piece] = _cloth(element.get("d", ""), place, name)
    if not found:
        raise BadRecord(place, f"it holds no outline of a piece, a path named piece{_CUT}")
    return found


def _elements(content: bytes, place: str) -> Iterator[ElementTree.Element]:
    if len(content) > LARGEST_FILE:
        raise BadRecord(place, f"it is larger than {LARGEST_FILE // 1_000_000} MB")
    # Each element begins with this sign and most end with another: a bound before anything is built
    if content.count(b"<") > 2 * MOST_ELEMENTS:
        raise BadRecord(place, f"it holds more than {MOST_ELEMENTS} parts")
    try:
        # As text, so that no other encoding can hide what was counted.
        root = fromstring(content.decode("utf-8"), forbid_dtd=True)
    except UnicodeDecodeError:
        raise BadRecord(place, "it is not UTF-8 text") from None
    except DefusedXmlException:
        raise BadRecord(place, "it defines entities, which no drawing needs") from None
    except (ElementTree.ParseError, ValueError, LookupError) as error:
        raise BadRecord(place, f"it is not XML: {error}") from None
    if root.tag != f"{{{_SVG}}}svg":
        raise BadRecord(place, "it is no SVG drawing")
    yield from root.iter()


def _local(element: ElementTree.Element) -> str:
    return str(element.tag).rpartition("}")[2]


def _cloth(drawn: str, place: str, name: str) -> Polygon:
    if not _PATH.fullmatch(drawn):
        raise BadRecord(place, "its path holds what is no line, curve or number", field=name)
    pen = _Pen()
    try:
        parse_path(drawn, pen)
    except _TooFar as error:
        raise BadRecord(place, str(error), field=name) from None
    except Exception:  # the parser trips in its own ways over a path that is cut short
        raise BadRecord(place, "its path cannot be followed", field=name) from None
    if pen.closed != 1 or pen.begun != 1:
        raise BadRecord(place, "its path is not one closed line", field=name)
    corners = [p for i, p in enumerate(pen.points) if i == 0 or p != pen.points[i - 1]]
    if len(set(corners)) < 3:
        raise BadRecord(place, "its path goes round nothing", field=name)
    polygon = Polygon(corners)
    if not polygon.is_valid:
        raise BadRecord(place, "its path crosses itself", field=name)
    return polygon


class _TooFar(Exception):
    """A path that leads farther, or has more points, than any cloth."""


class _Pen(BasePen):  # type: ignore[misc]
    """Follows a path and keeps its points, curves flattened."""

    def __init__(self) -> None:
        super().__init__(None)
        self.points: list[tuple[float, float]] = []
        self.begun = 0
        self.closed = 0

    def _moveTo(self, pt: tuple[float, float]) -> None:  # noqa: N802
        self.begun += 1
        self._lineTo(pt)

    def _lineTo(self, pt: tuple[float, float]) -> None:  # noqa: N802
        if not max(abs(pt[0]), abs(pt[1])) <= FARTHEST:
            raise _TooFar(f"a point of its path lies more than {FARTHEST / 1000:.0f} m away")
        if len(self.points) >= MOST_POINTS:
            raise _TooFar(f"its path has more than {MOST_POINTS} points")
        self.points.append(pt)

    def _curveToOne(  # noqa: N802
        self, pt1: tuple[float, float], pt2: tuple[float, float], pt3: tuple[float, float]
    ) -> None:
        for control in (pt1, pt2, pt3):
            if not max(abs(control[0]), abs(control[1])) <= FARTHEST:
                raise _TooFar(f"a point of its path lies more than {FARTHEST / 1000:.0f} m away")
        four = (complex(*p) for p in (self._getCurrentPoint(), pt1, pt2, pt3))
        for point in Cubic(*four).flattened(FLATTEN):
            self._lineTo((point.real, point.imag))

    def _closePath(self) -> None:  # noqa: N802
        self.closed += 1
