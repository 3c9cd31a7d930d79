"""Look a drawing over: its pieces, their corners and darts, and what lies on them."""

import math
from collections.abc import Iterator, Sequence
from itertools import count

from shapely import Polygon
from shapely.geometry import LineString
from shapely.geometry import Point as Place

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Point, turn_between
from trueup.lineage.drawings.seen.corners import sides_between_corners
from trueup.lineage.drawings.seen.darts import (
    darts_in,
    legs_of_darts,
    mouth_points,
    with_sewn_darts,
)
from trueup.lineage.drawings.seen.found import Found, FoundPiece, Inner, Looks, Notched, OutlineLine
from trueup.lineage.drawings.seen.outlines import ON, PieceOutline, line_of, piece_outlines
from trueup.lineage.drawings.seen.rings import Ring
from trueup.lineage.drawings.seen.words import looks_by_words
from trueup.lineage.drawings.shapes.shape import Shape, ShapePage, Told
from trueup.lineage.errors import BadRecord
from trueup.lineage.limits import MOST_EDGES

_SIGN = 15.0
_GRAIN, _UPRIGHT = 80.0, 2.0
_ROUND = 0.985
_ACROSS = 0.6
_TEXT_NEAR = 30.0
_CUT_BEYOND = 60.0


def look_over(page: ShapePage, place: str) -> Found:
    """Return what is seen on a page of lines; `place` is what a message calls the file.

    Raises BadRecord where there is no piece, or it could be one in more than one way.
    """
    notes = list(page.notes)
    outlines, open_lines = piece_outlines(page, place, notes)
    numbers = count(1)
    pieces = []
    for outline in outlines:
        pieces.append(_piece(outline, open_lines, outlines, page, numbers, place))
    return Found(tuple(pieces), page.size, page.is_sized, tuple(notes))


# --- one piece ------------------------------------------------------------------------------------


def _piece(
    outline: PieceOutline,
    open_lines: Sequence[Shape],
    outlines: Sequence[PieceOutline],
    page: ShapePage,
    numbers: Iterator[int],
    place: str,
) -> FoundPiece:
    ring = outline.ring
    ours = [s for s in open_lines if _belongs(s.chain, outline, outlines)]
    legs = legs_of_darts(ours)
    mouths = mouth_points([*ours, *legs])
    sides = sides_between_corners(ring.chain, ring.told, (*ring.ends, *mouths))
    parted = darts_in(sides)
    parted, taken = with_sewn_darts(parted, [*ours, *legs])
    sewn = [leg for shape in taken for leg in legs.get(shape, (shape,))]
    if len(parted) > MOST_EDGES:
        raise BadRecord(place, f"it has more than {MOST_EDGES} corners", field=ring.shapes[0].id)
    lines: list[OutlineLine | Notched] = []
    for part in parted:
        if isinstance(part, Chain):
            source = _source(part, ring)
            alone = len(ring.shapes) == 1
            lines.append(
                OutlineLine(next(numbers), part, source.id, () if alone else _names(source))
            )
        else:
            lines.append(Notched(next(numbers), *part))
    inner = [
        _inner(shape.chain, shape.is_closed, shape, outline, numbers)
        for shape in ours
        if shape not in sewn
    ]
    inner += [_inner(each.chain, True, each.shapes[0], outline, numbers) for each in outline.inside]
    for spot in page.spots:
        # A notch of a piece that is cut wider lies on its cutting line.
        reach = _CUT_BEYOND if spot.told and spot.groups else ON
        away = outline.shape.distance(Place(spot.at.real, spot.at.imag))
        if away <= reach and _in_its_block(spot.groups, ring):
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


def _nearest(at: Point, outlines: Sequence[PieceOutline]) -> PieceOutline | None:
    where = Place(at.real, at.imag)
    near = min(outlines, key=lambda each: each.shape.distance(where))
    return near if near.shape.distance(where) <= _TEXT_NEAR else None


def _belongs(chain: Chain, outline: PieceOutline, outlines: Sequence[PieceOutline]) -> bool:
    line = line_of(chain)
    if outline.shape.distance(line) > ON:
        return False
    shares = {id(o): o.around.intersection(line).length for o in outlines}
    return bool(max(shares.values()) == shares[id(outline)])


def _source(part: Chain, ring: Ring) -> Shape:
    """Return the line of the drawing that a side is, or is part of."""
    if len(ring.shapes) == 1:
        return ring.shapes[0]
    middle = part.point_at(part.length / 2)
    where = Place(middle.real, middle.imag)
    return min(ring.shapes, key=lambda shape: line_of(shape.chain).distance(where))


def _names(shape: Shape) -> tuple[str, ...]:
    return tuple(dict.fromkeys((*shape.labels, shape.id)))


def _inner(
    chain: Chain, is_closed: bool, shape: Shape, outline: PieceOutline, numbers: Iterator[int]
) -> Inner:
    names = (*_names(shape), *reversed(shape.groups))
    looks = _TOLD_LOOKS.get(shape.told) if shape.told else looks_by_words(names)
    by_form = looks is None
    return Inner(
        next(numbers),
        chain,
        is_closed,
        looks or looks_like(chain, outline.shape, is_closed=is_closed),
        shape.id,
        _names(shape),
        shape.told,
        by_form=by_form,
    )


_TOLD_LOOKS = {
    Told.GRAIN: Looks.GRAIN,
    Told.NOTCH: Looks.NOTCH,
    Told.MIRROR: Looks.FOLD,
    Told.DRILL: Looks.HOLE,
}


def looks_like(chain: Chain, outline: Polygon, *, is_closed: bool) -> Looks:
    """Return what a line on a piece looks like by its form alone."""
    line = line_of(chain) if chain.length else Place(chain.start.real, chain.start.imag)
    left, top, right, bottom = line.bounds
    if max(right - left, bottom - top) <= _SIGN:
        if outline.exterior.distance(line) <= ON and not (is_closed and _is_round(chain)):
            return Looks.NOTCH
        return Looks.HOLE if is_closed and _is_round(chain) else Looks.LINE
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


def _is_round(chain: Chain) -> bool:
    """Return whether a closed line is a circle: no letter is as round."""
    around = abs(4 * math.pi * chain.swept_area)
    return bool(chain.length and around >= _ROUND * chain.length**2)


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
