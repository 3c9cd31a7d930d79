"""The cutting line at a corner that is cut in a way of its own. Lengths in mm.

Each function takes the cutting lines of the edge before the corner, up to it, and of the edge after
it, from it on, and returns both as they are cut. Nothing where the lines do not meet as they would
have to: then the corner is cut as any other.
"""

from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise

from trueup.geometry.lines.points import Point, cross, dot, unit
from trueup.geometry.lines.polygons import polyline
from trueup.geometry.pieces.corner import edges_at
from trueup.geometry.pieces.marks.cut_corner import CutCorner, Treatment
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import SAME_POINT

Line = list[Point]
Lines = tuple[Line, Line]

_FAR = 10.0
"""Lines are drawn on by so many times the larger allowance to meet, and no farther."""


def cut_as_said(piece: Piece, how: CutCorner, before: Line, after: Line) -> Lines | None:
    """Return the cutting lines beside a corner, cut as is said of it; None where they cannot be."""
    cut = _CUT.get(how.treatment)
    return cut(_Corner(piece, how), before, after) if cut else None


class _Corner:
    """A corner of a piece: its point, how the edges run there, and their allowances."""

    def __init__(self, piece: Piece, how: CutCorner) -> None:
        before, after = edges_at(piece, how.corner)
        self.point = after.start
        self.arriving = before.parts[-1].end_tangent
        self.leaving = after.parts[0].start_tangent
        self.inward = piece.inward
        self.allowances = piece.allowance(before.name), piece.allowance(after.name)
        self.told_of_after = how.edge == after.name
        self.by = how.by

    @property
    def reach(self) -> float:
        return _FAR * max(*self.allowances, self.by, 1.0)

    @property
    def outward(self) -> complex:
        """Return the direction out of the corner, halfway between its edges."""
        return unit(self.arriving - self.leaving)

    @property
    def turned(self) -> "_Corner":
        """Return the same corner walked the other way round."""
        other = object.__new__(_Corner)
        other.point, other.inward, other.by = self.point, -self.inward, self.by
        other.arriving, other.leaving = -self.leaving, -self.arriving
        other.allowances = self.allowances[1], self.allowances[0]
        other.told_of_after = not self.told_of_after
        return other


def _either_way(
    cut: Callable[[_Corner, Line, Line], Lines | None],
) -> Callable[[_Corner, Line, Line], Lines | None]:
    """Return what cuts a corner told of either edge, made of what does for the one after it."""

    def both(corner: _Corner, before: Line, after: Line) -> Lines | None:
        if corner.told_of_after:
            return cut(corner, before, after)
        found = cut(corner.turned, after[::-1], before[::-1])
        return (found[1][::-1], found[0][::-1]) if found else None

    return both


@_either_way
def _mirrored(corner: _Corner, before: Line, after: Line) -> Lines | None:
    """Cut the hem, the edge after, as the mirror image of the cut above it, turned about itself."""
    axis = corner.leaving
    side = _drawn_on(before, corner.reach)
    fold = [corner.point - axis * corner.reach, corner.point + axis * corner.reach]
    place = _met(side, fold, corner.point)
    if place is None:
        return None
    above = _up_to(side, place)
    below = [corner.point + axis * ((p - corner.point) / axis).conjugate() for p in reversed(above)]
    hem = _drawn_on(after[::-1], corner.reach)[::-1]
    depth = corner.allowances[1]
    beneath = corner.point - axis * corner.inward * depth
    end = _met(below, hem, beneath)
    if end is None:
        return None
    return above, [*_up_to(below, end), *_up_to(hem[::-1], end)[:-1][::-1]]


@_either_way
def _squared(corner: _Corner, before: Line, after: Line) -> Lines | None:
    """Cut the edge after, which is sewn first, square where its seam meets the other's allowance.

    Its seam line is drawn on, out of the piece, over the allowance of the edge before.
    """
    out = -corner.leaving
    other = _drawn_on(before, corner.reach)
    place = _met(other, [corner.point, corner.point + out * corner.reach], corner.point)
    if place is None:
        return None
    aside = place - corner.leaving * corner.inward * corner.allowances[1]
    return _up_to(other, place), [place, aside, *after]


def _blunted(corner: _Corner, before: Line, after: Line) -> Lines | None:
    """Cut straight across, square to the way out of the corner, outside both allowances."""
    middle = corner.point + corner.outward * max(corner.by, *corner.allowances)
    across = corner.outward * 1j * corner.reach
    blunt = [middle - across, middle + across]
    first, second = (_drawn_on(line, corner.reach) for line in (before, after[::-1]))
    ends = _met(first, blunt, middle), _met(second, blunt, middle)
    if ends[0] is None or ends[1] is None or abs(ends[0] - ends[1]) < SAME_POINT:
        return None
    # Where the lines have met before, there is no point to cut off.
    if dot(ends[1] - ends[0], corner.arriving + corner.leaving) < 0:
        return None
    return _up_to(first, ends[0]), _up_to(second, ends[1])[::-1]


def _folded(corner: _Corner, before: Line, after: Line) -> Lines | None:
    """Cut along both halves of the mitre, which lie on each other when both hems are turned."""
    first, second = corner.allowances
    inside = _inside(corner, first, second)
    if inside is None:
        return None
    ends = [
        corner.point + along * ((inside - corner.point) / along).conjugate()
        for along in (corner.arriving, corner.leaving)
    ]
    halves: list[Line] = []
    for end in ends:
        way = unit(end - corner.point)
        square = way * 1j
        out = square if dot(square, corner.outward) > 0 else -square
        halves.append([corner.point + out * corner.by, way])
    middle = _crossing(halves[0], halves[1])
    middle = corner.point + corner.outward * corner.by if middle is None else middle
    cut: list[Line] = []
    for line, (_, way) in zip((before, after[::-1]), halves, strict=True):
        drawn = _drawn_on(line, corner.reach)
        place = _met(drawn, [middle, middle + way * corner.reach], middle)
        if place is None:
            return None
        cut.append(_up_to(drawn, place))
    return [*cut[0], middle], cut[1][::-1]


def _inside(corner: _Corner, first: float, second: float) -> Point | None:
    """Return the point so far inside both edges: where the turned hems meet."""
    turn = cross(corner.arriving, corner.leaving)
    if abs(turn) < SAME_POINT:
        return None
    start = corner.point + corner.arriving * corner.inward * first
    other = corner.point + corner.leaving * corner.inward * second
    return _crossing([start, corner.arriving], [other, corner.leaving])


def _crossing(one: Sequence[complex], other: Sequence[complex]) -> Point | None:
    """Return where two endless lines cross, each a point and a direction."""
    turn = cross(one[1], other[1])
    if abs(turn) < SAME_POINT:
        return None
    return one[0] + one[1] * cross(other[0] - one[0], other[1]) / turn


_CUT: Mapping[Treatment, Callable[[_Corner, Line, Line], Lines | None]] = {
    Treatment.MIRRORED: _mirrored,
    Treatment.SQUARED: _squared,
    Treatment.BLUNTED: _blunted,
    Treatment.FOLDED: _folded,
}


def _drawn_on(line: Line, by: float) -> Line:
    """Return a line drawn on straight beyond its end."""
    back = next(p for p in reversed(line) if abs(p - line[-1]) > SAME_POINT)
    return [*line, line[-1] + unit(line[-1] - back) * by]


def _met(line: Line, other: Line, near: Point) -> Point | None:
    """Return where two lines meet nearest to a point, None where they do not."""
    met = polyline(line).intersection(polyline(other))
    places = [complex(*xy) for part in getattr(met, "geoms", [met]) for xy in part.coords]
    return min(places, key=lambda place: abs(place - near), default=None)


def _up_to(line: Line, place: Point) -> Line:
    """Return a line as far as a place on it."""
    for k, (start, end) in enumerate(pairwise(line)):
        span = end - start
        if abs(span) < SAME_POINT:
            continue
        share = ((place - start) / span).real
        if -1e-9 <= share <= 1 + 1e-9 and abs(start + span * share - place) < SAME_POINT:
            return [*line[: k + 1], place]
    return [*line, place]
