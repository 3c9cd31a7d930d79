"""Which outlines of a drawing are pieces: not the frame around them, nor their cutting lines."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

import shapely
from shapely import Polygon
from shapely.geometry import LineString
from shapely.geometry import Point as Place

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import coordinates
from trueup.geometry.lines.polygons import polygon
from trueup.geometry.said import said
from trueup.geometry.tolerance import DRAWN_TOGETHER
from trueup.lineage.drawings.seen.rings import Ring, require_closed, rings_of
from trueup.lineage.drawings.shapes.shape import Shape, ShapePage, Told
from trueup.lineage.errors import BadRecord
from trueup.lineage.limits import MOST_PIECES

SMALLEST = 20.0
"""mm; what is smaller in both directions is a sign or a letter, not a piece."""

ON = 1.0
"""mm; what lies no farther from an outline lies on it."""

_SAME = 0.3
_IN_A_DART = 15.0
_CUT_LINE = (3.0, 60.0)


@dataclass
class PieceOutline:
    """The outline of a piece, and the closed lines inside it."""

    ring: Ring
    shape: Polygon
    inside: list[Ring] = field(default_factory=list)

    @cached_property
    def around(self) -> Polygon:
        """Return the outline and what lies on its line."""
        return self.shape.buffer(ON)

    @property
    def called(self) -> str:
        """Return what it is called in its file, shortened."""
        return self.ring.shapes[0].id[:40]


def piece_outlines(
    page: ShapePage, place: str, notes: list[str]
) -> tuple[list[PieceOutline], list[Shape]]:
    """Return the outlines of pieces in their order, and the lines that are part of none."""
    sewn = _sewn(page.shapes)
    lines = [s for s in page.shapes if s not in sewn and s.told in (None, Told.BOUNDARY)]
    inner = [s for s in page.shapes if s not in sewn and s.told not in (None, Told.BOUNDARY)]
    rings, rest = rings_of(lines)
    large = [PieceOutline(ring, shape) for ring in rings if _size(shape := _area_of(ring, place))]
    small = [ring for ring in rings if not any(ring is each.ring for each in large)]
    if sewn:
        seams, _ = rings_of(sewn)
        large = _instead(large, [PieceOutline(r, _area_of(r, place)) for r in seams], notes)
    tops = _topmost(large, place, notes)
    if not tops:
        require_closed(rest, place)
        raise BadRecord(
            place,
            "no closed outline in it is as large as a piece; close the outlines of its pieces",
        )
    outside = [
        shape
        for shape in rest
        if not any(each.around.intersects(line_of(shape.chain)) for each in tops)
    ]
    require_closed(outside, place)
    if len(tops) > MOST_PIECES:
        raise BadRecord(place, f"it has more than {MOST_PIECES} pieces")
    if outside:
        notes.append(f"Lines outside of all pieces were left out: {_some(outside)}.")
    for ring in small:
        _place_inside(ring, tops)
    return tops, [*(s for s in rest if s not in outside), *inner]


def _some(shapes: Sequence[Shape]) -> str:
    names = [shape.id[:40] for shape in shapes[:5]]
    return ", ".join(names) + (f" and {len(shapes) - 5} more" if len(shapes) > 5 else "")


def _sewn(shapes: Sequence[Shape]) -> list[Shape]:
    """Return the lines of seam lines told as such, with the darts and folds that complete them."""
    sew = [shape for shape in shapes if shape.told is Told.SEW]
    if not sew:
        return []
    groups = {shape.groups for shape in sew}
    also = [
        shape
        for shape in shapes
        if shape.groups in groups
        and not shape.is_closed
        and (shape.told is Told.MIRROR or (shape.told is Told.INTERNAL and _is_v(shape.chain)))
    ]
    ends = [end for shape in sew for end in (shape.chain.start, shape.chain.end)]
    met = [
        shape
        for shape in also
        if all(
            any(abs(end - at) <= DRAWN_TOGETHER for at in ends)
            for end in (shape.chain.start, shape.chain.end)
        )
    ]
    drawn = [*sew, *met]
    folds = [shape for shape in also if shape.told is Told.MIRROR and shape not in met]
    return [*drawn, *(part for fold in folds if (part := _between(fold, drawn)))]


def _between(fold: Shape, drawn: Sequence[Shape]) -> Shape | None:
    """Return the part of a fold, told as it is cut, between the seam lines that meet it."""
    ends = [
        end
        for shape in drawn
        if shape.groups == fold.groups
        for end in (shape.chain.start, shape.chain.end)
    ]
    line = line_of(fold.chain)
    loose = [
        end
        for end in ends
        if sum(abs(end - other) <= DRAWN_TOGETHER for other in ends) == 1
        and line.distance(Place(end.real, end.imag)) <= DRAWN_TOGETHER
    ]
    return replace(fold, chain=Chain.line(*loose)) if len(loose) == 2 else None


def _is_v(chain: Chain) -> bool:
    return len(chain.cubics) == 2 and all(cubic.is_straight for cubic in chain.cubics)


def _area_of(ring: Ring, place: str) -> Polygon:
    shape = polygon(ring.chain.flattened()[1:])
    if not shape.is_valid:
        why = shapely.is_valid_reason(shape)
        at = why[why.find("[") + 1 : -1].split() if "[" in why else ["0", "0"]
        where = {"x": float(at[0]), "y": float(at[1])}
        big = max(abs(ring.chain.start - cubic.end) for cubic in ring.chain.cubics)
        if big > SMALLEST * 2:
            raise BadRecord(place, said("drawn-outline-crosses", **where), field=ring.shapes[0].id)
        return shape.buffer(0) if isinstance(shape.buffer(0), Polygon) else shape.convex_hull
    return shape


def _size(shape: Polygon) -> bool:
    """Return whether an outline is as large as a piece."""
    left, top, right, bottom = shape.bounds
    wide, high = right - left, bottom - top
    is_large = max(wide, high) >= 2 * SMALLEST and min(wide, high) >= SMALLEST / 2
    return bool(is_large and shape.area >= SMALLEST**2)


def _instead(
    large: list[PieceOutline], seams: list[PieceOutline], notes: list[str]
) -> list[PieceOutline]:
    """Return the outlines with those of seam lines in the place of the cutting lines round them."""
    kept = list(large)
    for seam in seams:
        for index, each in enumerate(kept):
            if each.shape.buffer(ON).contains(seam.shape):
                kept[index] = seam
                break
        else:
            kept.append(seam)
    notes.append("Its seam lines were taken; the cutting lines around them were left out.")
    return kept


def _topmost(large: list[PieceOutline], place: str, notes: list[str]) -> list[PieceOutline]:
    """Return the outlines that are pieces; raises BadRecord for two on top of each other."""
    frames = [each for each in large if _is_frame(each, large)]
    if frames:
        notes.append("A frame around the pieces was left out.")
    kept: list[PieceOutline] = []
    for each in [one for one in large if one not in frames]:
        other = next((o for o in kept if o.shape.intersects(each.shape)), None)
        if other is None:
            kept.append(each)
            continue
        common = other.shape.intersection(each.shape).area
        smaller, larger = sorted((each, other), key=lambda one: one.shape.area)
        if common < 0.01 * smaller.shape.area:
            kept.append(each)
        elif smaller.shape.hausdorff_distance(larger.shape) < _SAME:
            notes.append(f"{each.ring.shapes[0].id[:40]} is drawn twice; once was left out.")
        elif _is_cut_round(smaller.shape, larger.shape):
            kept[kept.index(other)] = smaller
            notes.append("The cutting line around a seam line was left out.")
        elif larger.shape.contains(smaller.shape) and smaller.shape.area < larger.shape.area / 2:
            if larger is each:
                kept[kept.index(other)] = each
            larger.inside.append(smaller.ring)
        else:
            at = other.shape.intersection(each.shape).representative_point()
            first = other.called
            reason = said("on-top-of", other=first, x=at.x, y=at.y)
            raise BadRecord(place, reason, field=each.ring.shapes[0].id)
    return kept


def _is_frame(one: PieceOutline, large: Sequence[PieceOutline]) -> bool:
    """Return whether an outline is a rectangle drawn around whole pieces."""
    box = one.shape.minimum_rotated_rectangle
    if one.shape.area < 0.98 * box.area:
        return False
    within = [each for each in large if each is not one and one.shape.contains(each.shape)]
    return len(within) > 1 or any(
        each.shape.area > one.shape.area / 4 and not _is_cut_round(each.shape, one.shape)
        for each in within
    )


def _is_cut_round(inner: Polygon, outer: Polygon) -> bool:
    """Return whether a line runs around another at about the distance of a seam allowance."""
    if not outer.buffer(ON).contains(inner):
        return False
    away = [outer.exterior.distance(Place(at)) for at in inner.exterior.segmentize(10.0).coords]
    low, high = _CUT_LINE
    near = sorted(away)[: max(1, 9 * len(away) // 10)]
    return bool(near[-1] <= high and sorted(away)[len(away) // 2] >= low)


def _place_inside(ring: Ring, tops: Sequence[PieceOutline]) -> None:
    line = line_of(ring.chain)
    near = min(tops, key=lambda each: each.shape.distance(line))
    # A hole inside the tip of a dart lies beyond the cloth, but not beyond the piece.
    reach = _IN_A_DART if near.shape.convex_hull.contains(line) else ON
    if near.shape.distance(line) <= reach:
        near.inside.append(ring)


def line_of(chain: Chain) -> LineString:
    """Return a line of ours as one of shapely."""
    return LineString(coordinates(chain.flattened()))
