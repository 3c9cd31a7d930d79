"""Where two lines lie farthest apart: the distance, and the place where it is found."""

from dataclasses import dataclass
from functools import lru_cache
from itertools import chain

import numpy as np
import shapely
from numpy.typing import NDArray

from trueup.geometry.comparing.straight_bits import Distances, Places, Points, StraightBits
from trueup.geometry.kept import kept
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.edge import Edge

_FLAT = 0.002
_STEP = 8.0
_ERROR = 0.01
"""The distance is found to this, mm; only stretches that can hold a larger one are halved."""

_EQUALLY_FAR = 1e-9
_SOME = 8


@dataclass(frozen=True)
class Farthest:
    """The largest distance of a point of either line from the other, mm, and where it is found.

    `on_one` and `on_other` are the two points so far apart; the distance is taken from the second
    where `from_other`, else from the first.
    """

    one: Edge
    other: Edge
    distance: float
    on_one: Point
    on_other: Point
    from_other: bool

    @kept
    def along(self) -> float:
        """Return how many sewn mm from the start of its edge the distance is taken."""
        if self.from_other:
            return _sewn(self.other, self.on_other)
        return _sewn(self.one, self.on_one)


@lru_cache(maxsize=512)
def farthest(one: Edge, other: Edge) -> Farthest:
    """Return where the lines of two edges lie farthest apart, darts left out.

    It is the Hausdorff distance of the two lines. Of places equally far, the first is taken.
    """
    line, facing = _flat(one), _flat(other)
    on_one, from_one = _farthest_place(line, facing)
    # What lies no farther on the other line is not told, and need not be found.
    on_other, from_other = _farthest_place(facing, line, from_one + _EQUALLY_FAR)
    if from_other > from_one + _EQUALLY_FAR:
        near = _nearest(on_other, line)
        return Farthest(one, other, from_other, near, on_other, from_other=True)
    near = _nearest(on_one, facing)
    return Farthest(one, other, from_one, on_one, near, from_other=False)


@lru_cache(maxsize=512)
def lie_apart(one: Edge, other: Edge, by: float) -> bool:
    """Return whether a point of either line lies farther than a distance from the other line."""
    if _drawn_within(one, other, by - 2 * _FLAT):
        return False
    line, facing = _flat(one), _flat(other)
    some = facing.bits.starts
    # Of what moved, most moved by more almost everywhere.
    if (line.bits.nearest(some[:: -(-len(some) // _SOME)])[0] > by).any():
        return True
    return farthest(one, other).distance > by


def _drawn_within(one: Edge, other: Edge, by: float) -> bool:
    """Return whether two lines are drawn alike, no control point farther than this from its like.

    Then no point of either lies farther from the other: a point of a curve is a mean of its control
    points, and at one parameter of two curves it is the same mean.
    """
    lines = [[part.cubics for part in edge.parts] for edge in (one, other)]
    if [*map(len, lines[0])] != [*map(len, lines[1])]:
        return False
    curves = zip(*map(chain.from_iterable, lines), strict=True)
    return all(abs(p - q) <= by for both in curves for p, q in zip(*both, strict=True))


def _farthest_place(
    line: "_FlatLine", other: "_FlatLine", told: float = 0.0
) -> tuple[Point, float]:
    """Return the place of a line that lies farthest from another line, and how far it does.

    Where none lies farther than what is `told`, it may be another place, that lies less far.
    """
    points, first = line.stations
    facing = other.bits
    apart = _Apart.of(points, facing)
    starts, ends = points[first], points[first + 1]
    from_start, from_end = apart.where(first), apart.where(first + 1)
    place, best = max(from_start.farthest(starts), from_end.farthest(ends), key=_how_far)
    while True:
        most = max(best + _ERROR, told)
        kept = _may_exceed(most, starts, ends, from_start, from_end, facing)
        if not kept.size:
            return place, best
        starts, ends = starts[kept], ends[kept]
        from_start, from_end = from_start.where(kept), from_end.where(kept)
        middles = (starts + ends) / 2
        from_middle = _Apart.of(middles, facing)
        place, best = max((place, best), from_middle.farthest(middles), key=_how_far)
        starts, ends = np.concatenate([starts, middles]), np.concatenate([middles, ends])
        from_start, from_end = from_start.then(from_middle), from_middle.then(from_end)


def _how_far(found: tuple[Point, float]) -> float:
    return found[1]


@dataclass(frozen=True)
class _Apart:
    """How far points lie from a line, and from which bit of it."""

    distances: Distances
    bits: Places

    @classmethod
    def of(cls, points: Points, line: StraightBits) -> "_Apart":
        return cls(*line.nearest(points))

    def farthest(self, points: Points) -> tuple[Point, float]:
        index = int(np.argmax(self.distances))
        return complex(points[index]), float(self.distances[index])

    def where(self, kept: Places) -> "_Apart":
        return _Apart(self.distances[kept], self.bits[kept])

    def then(self, other: "_Apart") -> "_Apart":
        return _Apart(
            np.concatenate([self.distances, other.distances]),
            np.concatenate([self.bits, other.bits]),
        )


def _may_exceed(
    distance: float,
    starts: Points,
    ends: Points,
    from_start: _Apart,
    from_end: _Apart,
    line: StraightBits,
) -> Places:
    """Return the places of the stretches that may lie farther from a line than a distance.

    None of a stretch lies farther than half the distances of its ends and its own length added up;
    nor farther than from any one straight bit of the line, from which a straight stretch lies
    farthest at an end.
    """
    by_length = (from_start.distances + from_end.distances + np.abs(ends - starts)) / 2
    # Most are told by that alone, which is quick to work out.
    may = np.flatnonzero(by_length > distance)
    for this, points in ((from_start, ends), (from_end, starts)):
        across = line.squared(points[may], this.bits[may])
        may = may[(this.distances[may] > distance) | (across > distance * distance)]
    return may


def _rows(points: Points) -> NDArray[np.float64]:
    """Return points as rows of x and y, as shapely takes them."""
    return points.view(np.float64).reshape(-1, 2)


def _nearest(point: Point, line: "_FlatLine") -> Point:
    _, bits = line.bits.nearest(np.array([point]))
    return line.bits.foot(point, int(bits[0]))


def _sewn(edge: Edge, point: Point) -> float:
    """Return how many sewn mm along an edge a point of it lies."""
    # Most edges move most at a corner, which need not be looked for.
    if point in (edge.start, edge.end):
        return 0.0 if point == edge.start else edge.length
    done, best, apart = 0.0, 0.0, float("inf")
    for part in edge.parts:
        along = part.nearest(point)
        distance = abs(part.point_at(along) - point)
        if distance < apart - 1e-9:
            best, apart = done + along, distance
        done += part.length
    return best


@dataclass(frozen=True, eq=False)
class _FlatLine:
    """The line of an edge flattened, part by part."""

    parts: NDArray[np.object_]

    @kept
    def stations(self) -> tuple[Points, Places]:
        """Return points along it, and the places of those from which it goes on to the next."""
        even = shapely.segmentize(self.parts, _STEP)
        rows, part = shapely.get_coordinates(even, return_index=True)
        return rows.view(np.complex128)[:, 0], np.flatnonzero(part[:-1] == part[1:])

    @kept
    def bits(self) -> StraightBits:
        """Return the straight bits of it."""
        corners, part = shapely.get_coordinates(self.parts, return_index=True)
        rows = np.stack([corners[:-1], corners[1:]], axis=1)[part[:-1] == part[1:]]
        starts, ends = rows.reshape(-1, 4).view(np.complex128).T
        return StraightBits(starts, ends)


@lru_cache(maxsize=64)
def _flat(edge: Edge) -> _FlatLine:
    parts = [np.array(part.flattened(_FLAT)) for part in edge.parts]
    return _FlatLine(np.array([shapely.linestrings(_rows(points)) for points in parts]))
