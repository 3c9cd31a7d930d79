"""Where two lines lie farthest apart: the distance, and the place where it is found."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely
from numpy.typing import NDArray

from trueup.geometry.kept import kept
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.edge import Edge

_FLAT = 0.002
_STEP = 8.0
_ERROR = 0.01
"""The distance is found to this, mm; only stretches that can hold a larger one are halved."""

_EQUALLY_FAR = 1e-9
_NO_LENGTH = 1e-300
_SOME = 8

Points = NDArray[np.complex128]
Distances = NDArray[np.float64]
Places = NDArray[np.intp]


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
    on_other, from_other = _farthest_place(facing, line)
    if from_other > from_one + _EQUALLY_FAR:
        near = _nearest(on_other, line)
        return Farthest(one, other, from_other, near, on_other, from_other=True)
    near = _nearest(on_one, facing)
    return Farthest(one, other, from_one, on_one, near, from_other=False)


def lie_apart(one: Edge, other: Edge, by: float) -> bool:
    """Return whether a point of either line lies farther than a distance from the other line."""
    line = shapely.get_coordinates(_flat(other))
    some = shapely.points(line[:: -(-len(line) // _SOME)])
    # Of what moved, most moved by more almost everywhere.
    if (shapely.distance(some, _flat(one)) > by).any():
        return True
    return farthest(one, other).distance > by


def _farthest_place(
    line: shapely.MultiLineString, other: shapely.MultiLineString
) -> tuple[Point, float]:
    """Return the place of a line that lies farthest from another line, and how far it does."""
    facing = _Bits.of(other)
    points, first = _stations(line)
    apart = _Apart.of(points, facing)
    starts, ends = points[first], points[first + 1]
    from_start, from_end = apart.where(first), apart.where(first + 1)
    place, best = max(from_start.farthest(starts), from_end.farthest(ends), key=_how_far)
    while True:
        kept = _may_exceed(best + _ERROR, starts, ends, from_start, from_end, facing)
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
    def of(cls, points: Points, line: "_Bits") -> "_Apart":
        (_, bits), apart = line.tree.query_nearest(
            _as_shapes(points), return_distance=True, all_matches=False
        )
        return cls(apart, bits)

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


@dataclass(frozen=True)
class _Bits:
    """The straight bits of a line, so kept that the nearest one is found at once."""

    starts: Points
    ends: Points
    tree: shapely.STRtree

    @classmethod
    def of(cls, line: shapely.MultiLineString) -> "_Bits":
        points, part = shapely.get_coordinates(shapely.get_parts(line), return_index=True)
        bits = np.stack([points[:-1], points[1:]], axis=1)[part[:-1] == part[1:]]
        starts, ends = (bits[:, end, 0] + 1j * bits[:, end, 1] for end in (0, 1))
        return cls(starts, ends, shapely.STRtree(shapely.linestrings(bits)))

    def apart(self, points: Points, bits: Places) -> Distances:
        """Return how far each point lies from one of the bits."""
        start, end = self.starts[bits], self.ends[bits]
        way, there = end - start, points - start
        square = np.maximum((way * way.conj()).real, _NO_LENGTH)
        share = np.clip((there * way.conj()).real / square, 0.0, 1.0)
        return np.asarray(np.abs(there - share * way))


def _may_exceed(
    distance: float,
    starts: Points,
    ends: Points,
    from_start: _Apart,
    from_end: _Apart,
    line: _Bits,
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
        across = line.apart(points[may], this.bits[may])
        may = may[np.maximum(this.distances[may], across) > distance]
    return may


def _stations(line: shapely.MultiLineString) -> tuple[Points, Places]:
    """Return points along a line, and the places of those from which it goes on to the next."""
    even = shapely.get_parts(shapely.segmentize(line, _STEP))
    coordinates, part = shapely.get_coordinates(even, return_index=True)
    return coordinates[:, 0] + 1j * coordinates[:, 1], np.flatnonzero(part[:-1] == part[1:])


def _as_shapes(points: Points) -> NDArray[np.object_]:
    return np.asarray(shapely.points(points.real, points.imag))


def _nearest(point: Point, line: shapely.MultiLineString) -> Point:
    between = shapely.shortest_line(shapely.Point(point.real, point.imag), line)
    return complex(*shapely.get_coordinates(between)[1])


def _sewn(edge: Edge, point: Point) -> float:
    """Return how many sewn mm along an edge a point of it lies."""
    done, best, apart = 0.0, 0.0, float("inf")
    for part in edge.parts:
        along = part.nearest(point)
        distance = abs(part.point_at(along) - point)
        if distance < apart - 1e-9:
            best, apart = done + along, distance
        done += part.length
    return best


@lru_cache(maxsize=64)
def _flat(edge: Edge) -> shapely.MultiLineString:
    parts = [np.array(part.flattened(_FLAT)) for part in edge.parts]
    return shapely.multilinestrings(
        [shapely.linestrings(points.real, points.imag) for points in parts]
    )
