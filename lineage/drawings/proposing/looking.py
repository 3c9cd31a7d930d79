"""Look a drawing over: its pieces, their corners and darts, and what lies on them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import count

import shapely
from shapely import Polygon
from shapely.geometry import LineString
from shapely.geometry import Point as Place

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Point, coordinates, turn_between
from trueup.geometry.lines.polygons import polygon
from trueup.geometry.said import said
from trueup.geometry.tolerance import DRAWN_TOGETHER
from trueup.lineage.drawings.proposing.corners import sides_between_corners
from trueup.lineage.drawings.proposing.darts import darts_in, mouth_points, with_sewn_darts
from trueup.lineage.drawings.proposing.found import Found, FoundPiece, Inner, Looks, Notched, Side
from trueup.lineage.drawings.proposing.rings import Ring, require_closed, rings_of
from trueup.lineage.drawings.proposing.words import looks_by_words
from trueup.lineage.drawings.shapes.shape import Shape, ShapePage, Told
from trueup.lineage.errors import BadRecord
from trueup.lineage.limits import MOST_EDGES, MOST_PIECES

SMALLEST = 20.0
"""mm; what is smaller in both directions is a sign or a letter, not a piece."""

_SIGN = 15.0
_ON = 1.0
_GRAIN, _UPRIGHT = 80.0, 2.0
_ACROSS = 0.6
_SAME = 0.3
_CUT_LINE = (3.0, 60.0)
_TEXT_NEAR = 30.0


@dataclass
class _Outline:
    ring: Ring
    shape: Polygon
    inside: list[Ring] = field(default_factory=list)

    @cached_property
    def around(self) -> Polygon:
        """Return the outline and what lies on its line."""
        return self.shape.buffer(_ON)


def look_over(page: ShapePage, place: str) -> Found:
    """Return what is seen on a page of lines; `place` is what a message calls the file.

    Raises BadRecord where there is no piece, or it could be one in more than one way.
    """
    notes = list(page.notes)
    outlines, open_lines = _outlines(page, place, notes)
    numbers = count(1)
    pieces = []
    for outline in outlines:
        pieces.append(_piece(outline, open_lines, outlines, page, numbers, place))
    return Found(tuple(pieces), page.size, page.is_sized, tuple(notes))


def _outlines(page: ShapePage, place: str, notes: list[str]) -> tuple[list[_Outline], list[Shape]]:
    """Return the outlines of pieces in their order, and the lines that are part of none."""
    sewn = _sewn(page.shapes)
    lines = [s for s in page.shapes if s not in sewn and s.told in (None, Told.BOUNDARY)]
    inner = [s for s in page.shapes if s not in sewn and s.told not in (None, Told.BOUNDARY)]
    rings, rest = rings_of(lines)
    large = [_Outline(ring, shape) for ring in rings if _size(shape := _area_of(ring, place))]
    small = [ring for ring in rings if not any(ring is each.ring for each in large)]
    if sewn:
        seams, _ = rings_of(sewn)
        large = _instead(large, [_Outline(r, _area_of(r, place)) for r in seams], notes)
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
        if not any(each.around.intersects(_line(shape.chain)) for each in tops)
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
    return [*sew, *met]


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
            raise BadRecord(place, said("outline-crosses", **where), field=ring.shapes[0].id)
        return shape.buffer(0) if isinstance(shape.buffer(0), Polygon) else shape.convex_hull
    return shape


def _size(shape: Polygon) -> bool:
    """Return whether an outline is as large as a piece."""
    left, top, right, bottom = shape.bounds
    wide, high = right - left, bottom - top
    is_large = max(wide, high) >= 2 * SMALLEST and min(wide, high) >= SMALLEST / 2
    return bool(is_large and shape.area >= SMALLEST**2)


def _instead(large: list[_Outline], seams: list[_Outline], notes: list[str]) -> list[_Outline]:
    """Return the outlines with those of seam lines in the place of the cutting lines round them."""
    kept = list(large)
    for seam in seams:
        for index, each in enumerate(kept):
            if each.shape.buffer(_ON).contains(seam.shape):
                kept[index] = seam
                break
        else:
            kept.append(seam)
    notes.append("Its seam lines were taken; the cutting lines around them were left out.")
    return kept


def _topmost(large: list[_Outline], place: str, notes: list[str]) -> list[_Outline]:
    """Return the outlines that are pieces; raises BadRecord for two on top of each other."""
    frames = [each for each in large if _is_frame(each, large)]
    if frames:
        notes.append("A frame around the pieces was left out.")
    kept: list[_Outline] = []
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
            first = quoted_id(other)
            reason = said("on-top-of", other=first, x=at.x, y=at.y)
            raise BadRecord(place, reason, field=each.ring.shapes[0].id)
    return kept


def quoted_id(outline: _Outline) -> str:
    """Return what an outline is called in its file, shortened."""
    return outline.ring.shapes[0].id[:40]


def _is_frame(one: _Outline, large: Sequence[_Outline]) -> bool:
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
    if not outer.buffer(_ON).contains(inner):
        return False
    away = [outer.exterior.distance(Place(at)) for at in inner.exterior.segmentize(10.0).coords]
    low, high = _CUT_LINE
    near = sorted(away)[: max(1, 9 * len(away) // 10)]
    return bool(near[-1] <= high and sorted(away)[len(away) // 2] >= low)


def _place_inside(ring: Ring, tops: Sequence[_Outline]) -> None:
    near = [each for each in tops if each.shape.distance(_line(ring.chain)) <= _ON]
    if near:
        near[0].inside.append(ring)


def _line(chain: Chain) -> LineString:
    return LineString(coordinates(chain.flattened()))


# --- one piece ------------------------------------------------------------------------------------


def _piece(
    outline: _Outline,
    open_lines: Sequence[Shape],
    outlines: Sequence[_Outline],
    page: ShapePage,
    numbers: Iterator[int],
    place: str,
) -> FoundPiece:
    ring = outline.ring
    ours = [s for s in open_lines if _belongs(s.chain, outline, outlines)]
    mouths = mouth_points(ours)
    sides = sides_between_corners(ring.chain, ring.told, (*ring.ends, *mouths))
    parted = darts_in(sides)
    parted, sewn = with_sewn_darts(parted, ours)
    if len(parted) > MOST_EDGES:
        raise BadRecord(place, f"it has more than {MOST_EDGES} corners", field=ring.shapes[0].id)
    lines: list[Side | Notched] = []
    for part in parted:
        if isinstance(part, Chain):
            source = _source(part, ring)
            alone = len(ring.shapes) == 1
            lines.append(Side(next(numbers), part, source.id, () if alone else _names(source)))
        else:
            lines.append(Notched(next(numbers), *part))
    inner = [
        _inner(shape.chain, shape.is_closed, shape, outline, numbers)
        for shape in ours
        if shape not in sewn
    ]
    inner += [_inner(each.chain, True, each.shapes[0], outline, numbers) for each in outline.inside]
    for spot in page.spots:
        if outline.shape.distance(Place(spot.at.real, spot.at.imag)) <= _ON and _in_its_block(
            spot.groups, ring
        ):
            dot = Shape(spot.id, Chain((Cubic.line(spot.at, spot.at),)), False, told=spot.told)
            inner.append(_inner(dot.chain, False, dot, outline, numbers))
    texts = tuple(
        (text.says, text.at)
        for text in page.texts
        if _nearest(text.at, outlines) is outline and _in_its_block(text.groups, ring)
    )
    first = ring.shapes[0]
    own = _names(first) if len(ring.shapes) == 1 else ()
    labels = tuple(dict.fromkeys((*own, *reversed(first.groups))))
    return FoundPiece(tuple(lines), tuple(inner), labels, texts, first.id)


def _in_its_block(groups: tuple[str, ...], ring: Ring) -> bool:
    """Return whether what is written in a block of its own is written in that of an outline."""
    return ring.shapes[0].told is None or groups == ring.shapes[0].groups


def _nearest(at: Point, outlines: Sequence[_Outline]) -> _Outline | None:
    where = Place(at.real, at.imag)
    near = min(outlines, key=lambda each: each.shape.distance(where))
    return near if near.shape.distance(where) <= _TEXT_NEAR else None


def _belongs(chain: Chain, outline: _Outline, outlines: Sequence[_Outline]) -> bool:
    line = _line(chain)
    if outline.shape.distance(line) > _ON:
        return False
    shares = {id(o): o.around.intersection(line).length for o in outlines}
    return bool(max(shares.values()) == shares[id(outline)])


def _source(part: Chain, ring: Ring) -> Shape:
    """Return the line of the drawing that a side is, or is part of."""
    if len(ring.shapes) == 1:
        return ring.shapes[0]
    middle = part.point_at(part.length / 2)
    where = Place(middle.real, middle.imag)
    return min(ring.shapes, key=lambda shape: _line(shape.chain).distance(where))


def _names(shape: Shape) -> tuple[str, ...]:
    return tuple(dict.fromkeys((*shape.labels, shape.id)))


def _inner(
    chain: Chain, is_closed: bool, shape: Shape, outline: _Outline, numbers: Iterator[int]
) -> Inner:
    names = (*_names(shape), *reversed(shape.groups))
    looks = _TOLD_LOOKS.get(shape.told) if shape.told else looks_by_words(names)
    return Inner(
        next(numbers),
        chain,
        is_closed,
        looks or _looks(chain, is_closed, outline.shape),
        shape.id,
        _names(shape),
        shape.told,
    )


_TOLD_LOOKS = {
    Told.GRAIN: Looks.GRAIN,
    Told.NOTCH: Looks.NOTCH,
    Told.MIRROR: Looks.FOLD,
    Told.DRILL: Looks.LINE,
}


def _looks(chain: Chain, is_closed: bool, outline: Polygon) -> Looks:
    """Return what a line on a piece looks like by its form alone."""
    line = _line(chain) if chain.length else Place(chain.start.real, chain.start.imag)
    left, top, right, bottom = line.bounds
    if max(right - left, bottom - top) <= _SIGN:
        return Looks.NOTCH if outline.exterior.distance(line) <= _ON else Looks.LINE
    if is_closed:
        return Looks.DOUBLE_DART if _is_double_dart(chain) else Looks.LINE
    if not _is_straight(chain):
        return Looks.LINE
    way = chain.end - chain.start
    if abs(way.imag) < _UPRIGHT * abs(way) / 100:
        wide = outline.intersection(
            LineString([(-1e5, chain.start.imag), (1e5, chain.start.imag)])
        ).length
        return Looks.LEVEL if abs(way) >= _ACROSS * wide else Looks.LINE
    is_grain = abs(way.real) < _UPRIGHT * abs(way) / 100 and abs(way) >= _GRAIN
    return Looks.GRAIN if is_grain else Looks.LINE


def _is_straight(chain: Chain) -> bool:
    return chain.length - abs(chain.end - chain.start) < 1e-3 * chain.length


def _is_double_dart(chain: Chain) -> bool:
    """Return whether a closed line has four corners, two of them sharp and opposite."""
    if len(chain.cubics) != 4 or not all(cubic.is_straight for cubic in chain.cubics):
        return False
    points = [cubic.start for cubic in chain.cubics]
    turns = [
        abs(turn_between(b - a, c - b))
        for a, b, c in zip((points[-1], *points), points, (*points[1:], points[0]), strict=False)
    ]
    sharp = [turn > 2.2 for turn in turns]
    return [*sharp] in ([True, False, True, False], [False, True, False, True])
