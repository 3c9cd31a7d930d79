"""Where two lines lie farthest apart: the distance, and the place where it is found."""

import itertools
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from geometry.piece import Edge
from geometry.points import Point

_FLAT = 0.002
_STEP = 0.5
_ERROR = 0.01
"""The distance is found to this, mm. Between two places of a line it can be no more than half their
own distances and the way between them added up, so only stretches that can hold more are halved."""

Points = NDArray[np.complex128]


@dataclass(frozen=True)
class Farthest:
    """The largest distance of a point of either line from the other, mm, and where it is found.

    `on_one` and `on_other` are the two points so far apart. The one from which the distance is
    taken lies `along` sewn mm from the start of its edge: the second where `from_other`, else the
    first.
    """

    distance: float
    on_one: Point
    on_other: Point
    along: float
    from_other: bool


def farthest(one: Edge, other: Edge) -> Farthest:
    """Return where the lines of two edges lie farthest apart, darts left out.

    It is the Hausdorff distance of the two lines. Of places equally far, the first is taken.
    """
    lines = [_flat(edge) for edge in (one, other)]
    best = Farthest(-1.0, one.start, other.start, 0.0, from_other=False)
    for from_other, (line, facing) in enumerate(itertools.permutations(lines)):
        here, apart = _farthest_place(line, facing)
        if apart > best.distance + 1e-9:
            there = _nearest(here, facing)
            best = Farthest(
                apart,
                there if from_other else here,
                here if from_other else there,
                _sewn(other if from_other else one, here),
                bool(from_other),
            )
    return best


def _farthest_place(
    line: shapely.MultiLineString, other: shapely.MultiLineString
) -> tuple[Point, float]:
    """Return the place of a line that lies farthest from another line, and how far it does."""
    facing = _searchable(other)
    starts, ends = _stretches(line)
    from_start, from_end = _apart(starts, facing), _apart(ends, facing)
    places, apart = np.concatenate([starts, ends]), np.concatenate([from_start, from_end])
    index = int(np.argmax(apart))
    place, best = complex(places[index]), float(apart[index])
    while True:
        most = (from_start + from_end + np.abs(ends - starts)) / 2
        kept = most > best + _ERROR
        if not kept.any():
            return place, best
        starts, ends = starts[kept], ends[kept]
        from_start, from_end = from_start[kept], from_end[kept]
        middles = (starts + ends) / 2
        from_middle = _apart(middles, facing)
        index = int(np.argmax(from_middle))
        if float(from_middle[index]) > best:
            place, best = complex(middles[index]), float(from_middle[index])
        starts, ends = np.concatenate([starts, middles]), np.concatenate([middles, ends])
        from_start = np.concatenate([from_start, from_middle])
        from_end = np.concatenate([from_middle, from_end])


def _stretches(line: shapely.MultiLineString) -> tuple[Points, Points]:
    even = shapely.get_parts(shapely.segmentize(line, _STEP))
    parts = [shapely.get_coordinates(part) for part in even]
    points = [part[:, 0] + 1j * part[:, 1] for part in parts]
    return np.concatenate([p[:-1] for p in points]), np.concatenate([p[1:] for p in points])


def _searchable(line: shapely.MultiLineString) -> shapely.STRtree:
    """Return the straight bits of a line, so kept that the nearest one is found at once."""
    parts = [shapely.get_coordinates(part) for part in shapely.get_parts(line)]
    bits = np.concatenate([np.stack([part[:-1], part[1:]], axis=1) for part in parts])
    return shapely.STRtree(shapely.linestrings(bits))


def _apart(points: Points, line: shapely.STRtree) -> NDArray[np.float64]:
    """Return how far each point lies from a line."""
    wanted = shapely.points(points.real, points.imag)
    _, apart = line.query_nearest(wanted, return_distance=True, all_matches=False)
    return np.asarray(apart)


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


def _flat(edge: Edge) -> shapely.MultiLineString:
    parts = (part.flattened(_FLAT) for part in edge.parts)
    return shapely.MultiLineString([[(p.real, p.imag) for p in points] for points in parts])
