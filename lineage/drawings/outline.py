"""The outline a garment was cut by, as a plain SVG beside its record: cut cloth is a fact.

Lengths are mm. Every piece is a group, in which `piece.cut` is the outline of the cloth, closed,
and each seam edge a path of its own as in any drawing of a draft: `piece.edge`, or `piece.edge.1`,
`.2` where darts part it, and `piece.dart.NAME`. The paths stand in the pattern's own frame, so that
they compare with it as they are; a group is only laid beside the others by a `translate`.
Format: W3C, Scalable Vector Graphics (SVG) 1.1 (Second Edition).
"""

import re
from collections.abc import Mapping
from xml.etree import ElementTree

from fontTools.pens.basePen import BasePen
from shapely.geometry import Polygon

from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.tolerance import FLATTEN
from trueup.lineage.drawings.safe_svg import NUMBER, TooFar, elements, follow, local, require_near
from trueup.lineage.drawings.seam_drawing import draw_seams, lines, number, page, path
from trueup.lineage.errors import BadRecord
from trueup.lineage.limits import MOST_POINTS

_CUT = ".cut"
_MARGIN = 10.0
_GAP = 30.0
_TRANSLATE = re.compile(rf"translate\({NUMBER}[ ,]{NUMBER}\)")


def outline_svg(draft: Draft, cloth: Mapping[str, Polygon], title: str) -> bytes:
    """Return the drawing of cut pieces: `cloth` is the outline of each, in the draft's frame."""
    shifts, right, height = {}, _MARGIN, 0.0
    for piece in draft.pieces:
        left, top, far, bottom = cloth[piece.name].bounds
        shifts[piece.name] = complex(right - left, _MARGIN - top)
        right += far - left + _GAP
        height = max(height, bottom - top)
    root = page(max(right - _GAP, 0.0) + _MARGIN, height + 2 * _MARGIN, title)
    for piece in draft.pieces:
        shift = shifts[piece.name]
        place = f"translate({number(shift.real)} {number(shift.imag)})"
        group = ElementTree.SubElement(root, "g", {"id": piece.name, "transform": place})
        outline = [complex(x, y) for x, y in cloth[piece.name].exterior.coords[:-1]]
        path(group, f"{piece.name}{_CUT}", f"{lines(outline)} Z").set("stroke-width", "0.7")
        draw_seams(group, piece)
    ElementTree.indent(root)
    return b'<?xml version="1.0" encoding="UTF-8"?>\n' + ElementTree.tostring(root) + b"\n"


def read_outline(content: bytes, place: str = "the outline") -> dict[str, Polygon]:
    """Return the cloth of each piece, mm, in the pattern's frame, from the drawing of a garment.

    `place` is what a message calls the file. Nothing outside the file is ever read, and entities
    are refused. Raises BadRecord for what is no such drawing.
    """
    found: dict[str, Polygon] = {}
    for element in elements(content, place):
        name = element.get("id", "")
        moved = element.get("transform")
        if moved and not (local(element) == "g" and _TRANSLATE.fullmatch(moved)):
            raise BadRecord(place, "a part of it is moved by more than a translate of a group")
        if local(element) != "path" or not name.endswith(_CUT):
            continue
        piece = name.removesuffix(_CUT)
        if piece in found:
            raise BadRecord(place, "an outline stands in it twice", field=name)
        found[piece] = _cloth(element.get("d", ""), place, name)
    if not found:
        raise BadRecord(place, f"it holds no outline of a piece, a path named piece{_CUT}")
    return found


def _cloth(drawn: str, place: str, name: str) -> Polygon:
    pen = _Pen()
    follow(drawn, pen, place, name)
    if pen.closed != 1 or pen.begun != 1:
        raise BadRecord(place, "its path is not one closed line", field=name)
    corners = [p for i, p in enumerate(pen.points) if i == 0 or p != pen.points[i - 1]]
    if len(set(corners)) < 3:
        raise BadRecord(place, "its path goes round nothing", field=name)
    polygon = Polygon(corners)
    if not polygon.is_valid:
        raise BadRecord(place, "its path crosses itself", field=name)
    return polygon


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
        require_near(pt)
        if len(self.points) >= MOST_POINTS:
            raise TooFar(f"its path has more than {MOST_POINTS} points")
        self.points.append(pt)

    def _curveToOne(  # noqa: N802
        self, pt1: tuple[float, float], pt2: tuple[float, float], pt3: tuple[float, float]
    ) -> None:
        require_near(pt1, pt2, pt3)
        four = (complex(*p) for p in (self._getCurrentPoint(), pt1, pt2, pt3))
        for point in Cubic(*four).flattened(FLATTEN):
            self._lineTo((point.real, point.imag))

    def _closePath(self) -> None:  # noqa: N802
        self.closed += 1
