"""Darts of an outline: a V that runs into the cloth, or one drawn inside across its mouth."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point, turn_between
from trueup.geometry.pieces.dart import are_legs
from trueup.geometry.tolerance import DRAWN_TOGETHER
from trueup.lineage.drawings.shapes.shape import Shape, Told

Dart = tuple[Point, Point, Point]
"""Its first mouth point in ring order, its tip, its second mouth point."""

Parted = list[Chain | Dart]

_LEG = 15.0
_SHARPEST = 2.0
_ON = 0.5
_SHORTEST = 2.0
_MOST_LEGS = 200


def darts_in(sides: Sequence[Chain]) -> Parted:
    """Return the sides of an outline in ring order, each V between two of them as a dart."""
    swept = sum(side.swept_area for side in sides)
    parted: Parted = []
    skip = False
    turned = _turned(list(sides), swept)
    for index, side in enumerate(turned):
        if skip:
            skip = False
            continue
        following = turned[(index + 1) % len(turned)]
        if index + 1 < len(turned) and _is_dart(side, following, swept):
            parted.append((side.start, side.end, following.end))
            skip = True
        else:
            parted.append(side)
    return parted


def _turned(sides: list[Chain], swept: float) -> list[Chain]:
    """Return sides so turned that no dart begins with the last of them."""
    if len(sides) > 3 and _is_dart(sides[-1], sides[0], swept):
        return [sides[-1], *sides[:-1]]
    return sides


def _is_dart(one: Chain, other: Chain, swept: float) -> bool:
    straight = all(
        side.length - abs(side.end - side.start) < 1e-4 * side.length for side in (one, other)
    )
    if not (straight and are_legs(one.start, one.end, other.end, _LEG)):
        return False
    turn = turn_between(one.end - one.start, other.end - other.start)
    return turn * swept < 0 and abs(turn) > _SHARPEST


def mouth_points(lines: Sequence[Shape]) -> list[Point]:
    """Return where the legs of darts that are drawn inside begin and end."""
    return [
        end for shape in lines if _is_sewn(shape) for end in (shape.chain.start, shape.chain.end)
    ]


def _is_sewn(shape: Shape) -> bool:
    """Return whether a line is a V whose legs are alike."""
    chain = shape.chain
    if shape.is_closed or shape.told not in (None, Told.INTERNAL) or len(chain.cubics) != 2:
        return False
    if not all(cubic.is_straight for cubic in chain.cubics):
        return False
    return are_legs(chain.start, chain.cubics[0].end, chain.end, _LEG)


def legs_of_darts(lines: Sequence[Shape]) -> dict[Shape, tuple[Shape, Shape]]:
    """Return, as one line each, two straight ones that meet as the legs of a dart do at its tip."""
    single = [
        shape
        for shape in lines
        if shape.told in (None, Told.INTERNAL)
        and len(shape.chain.cubics) == 1
        and shape.chain.cubics[0].is_straight
        and shape.length >= _LEG
    ]
    found: dict[Shape, tuple[Shape, Shape]] = {}
    used: set[str] = set()
    for one, other in combinations(single[:_MOST_LEGS], 2):
        v = _v_of(one.chain, other.chain)
        both = v and replace(one, chain=v, labels=(*one.labels, *other.labels))
        if both and _is_sewn(both) and not used & {one.id, other.id}:
            found[both] = (one, other)
            used |= {one.id, other.id}
    return found


def _v_of(one: Chain, other: Chain) -> Chain | None:
    """Return two lines as one, from the free end of the one to that of the other."""
    for first in (one, one.reversed()):
        for second in (other, other.reversed()):
            if abs(first.end - second.start) <= DRAWN_TOGETHER:
                return Chain.line(first.start, first.end, second.end)
    return None


def with_sewn_darts(parted: Parted, lines: Sequence[Shape]) -> tuple[Parted, list[Shape]]:
    """Return an outline whose mouths were drawn across, opened where a V inside begins and ends.

    Also the lines that were taken for darts.
    """
    taken: list[Shape] = []
    for shape in lines:
        if not _is_sewn(shape):
            continue
        chain, tip = shape.chain, shape.chain.cubics[0].end
        opened = _opened(parted, chain.start, tip, chain.end)
        if opened is not None:
            parted = opened
            taken.append(shape)
    return parted, taken


def _opened(parted: Parted, one: Point, tip: Point, other: Point) -> Parted | None:
    """Return an outline opened between two points of it; None where they do not lie on it.

    Between them there may lie corners: the peak over the mouth of a dart.
    """
    places = [_where(parted, point) for point in (one, other)]
    if places[0] is None or places[1] is None:
        return None
    (i, along), (j, further) = sorted(
        (places[0], places[1]), key=lambda place: (place[0], place[1])
    )
    if (i, along) == places[0]:
        first, second = one, other
    else:
        first, second = other, one
    if j - i > 3:
        return None
    head, tail = _up_to(parted, i, along, first), _on_from(parted, j, further, second)
    if head is None or tail is None:
        return None
    return [*head, (first, tip, second), *tail]


def _up_to(parted: Parted, index: int, along: float, end: Point) -> Parted | None:
    """Return an outline up to a point on one of its sides; None where a dart lies there."""
    side = parted[index]
    if not isinstance(side, Chain):
        return None
    if along <= _SHORTEST:
        before = parted[index - 1]
        if index == 0 or not isinstance(before, Chain):
            return None
        return [*parted[: index - 1], before.ending_at(end)]
    if along >= side.length - _SHORTEST:
        return [*parted[:index], side.ending_at(end)]
    return [*parted[:index], side.split_at(along)[0].ending_at(end)]


def _on_from(parted: Parted, index: int, along: float, start: Point) -> Parted | None:
    """Return an outline from a point on one of its sides; None where a dart lies there."""
    side = parted[index]
    if not isinstance(side, Chain):
        return None
    if along >= side.length - _SHORTEST:
        if index + 1 >= len(parted):
            return None
        after = parted[index + 1]
        return (
            [after.starting_at(start), *parted[index + 2 :]] if isinstance(after, Chain) else None
        )
    if along <= _SHORTEST:
        return [side.starting_at(start), *parted[index + 1 :]]
    return [side.split_at(along)[1].starting_at(start), *parted[index + 1 :]]


def _where(parted: Parted, point: Point) -> tuple[int, float] | None:
    """Return which side a point lies on, and how far along it."""
    best: tuple[float, int, float] | None = None
    for index, side in enumerate(parted):
        if isinstance(side, Chain):
            along = float(side.nearest(point))
            away = abs(side.point_at(along) - point)
            if away <= _ON and (best is None or away < best[0]):
                best = (away, index, along)
    return None if best is None else (best[1], best[2])
