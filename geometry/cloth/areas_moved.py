"""Cloth that is cut: how deep inside it points lie, and how far lines moved. Lengths in mm."""

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.affinity import affine_transform
from shapely.geometry import Polygon

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point, unit
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.tolerance import FLATTEN, SAME_POINT

Points = NDArray[np.complex128]
Lengths = NDArray[np.float64]

_SPACING = 1.0
"""A line is looked at in steps of at most this: what lacks in between is under a pencil line."""

_DRAWN_ON = 500.0
"""A seam line is drawn on straight by this at both ends, so that a longer edge has not moved."""


@dataclass(frozen=True)
class Cloth:
    """A piece of cloth as it lies unfolded, so that it goes on beyond a fold."""

    lying: Polygon

    @classmethod
    def unfolded(cls, cut: Polygon, fold: tuple[Point, Point] | None) -> "Cloth":
        """Return the cloth of an outline cut on no fold, or on one that runs through two points."""
        if fold is None or abs(fold[1] - fold[0]) < SAME_POINT:
            return cls(cut)
        axis = unit(fold[1] - fold[0])
        square = axis * axis
        shift = fold[0] - square * fold[0].conjugate()
        mirror = (square.real, square.imag, square.imag, -square.real, shift.real, shift.imag)
        # Swelled by a hair, for the two halves meet in a line that rounding may leave open.
        halves = [
            half.buffer(FLATTEN, join_style="mitre")
            for half in (cut, affine_transform(cut, mirror))
        ]
        both = shapely.union_all(halves).buffer(-FLATTEN, join_style="mitre")
        parts = getattr(both, "geoms", [both])
        return cls(max(parts, key=lambda part: float(part.area)))

    @cached_property
    def _cuts(self) -> shapely.STRtree:
        """The cuts it is bounded by, point to point: the nearest is found without asking all."""
        shapely.prepare(self.lying)
        rings = [np.array(ring.coords) for ring in (self.lying.exterior, *self.lying.interiors)]
        runs = np.concatenate([np.stack([ring[:-1], ring[1:]], axis=1) for ring in rings])
        return shapely.STRtree(shapely.linestrings(runs))

    def depths(self, points: Points) -> Lengths:
        """Return how far inside the cloth points lie, from its nearest cut; negative outside."""
        if self.lying.is_empty:
            return np.full(points.shape, np.nan)
        places = shapely.points(points.real, points.imag)
        _, distance = self._cuts.query_nearest(places, return_distance=True, all_matches=False)
        inside = shapely.contains_xy(self.lying, points.real, points.imag)
        return np.asarray(np.where(inside, distance, -distance), dtype=np.float64)


@dataclass(frozen=True)
class PointLine:
    """An edge as points along it: `sewn` is how many mm each lies from its start, darts skipped."""

    points: Points
    sewn: Lengths

    @classmethod
    def along(cls, edge: Edge) -> "PointLine":
        """Return the seam line of an edge; over the mouth of a dart there is no point."""
        done, points, sewn = 0.0, [], []
        for part in edge.parts:
            places, stations = _spaced(part)
            points.append(places)
            sewn.append(stations + done)
            done += part.length
        return cls(np.concatenate(points), np.concatenate(sewn))

    def moved(self, step: complex) -> "PointLine":
        """Return the line after a shift."""
        return PointLine(self.points + step, self.sewn)


def _spaced(part: Chain) -> tuple[Points, Lengths]:
    corners = np.array(part.flattened())
    stations = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(corners)))])
    even = np.linspace(0.0, stations[-1], max(2, int(np.ceil(stations[-1] / _SPACING)) + 1))
    wanted = np.union1d(even, stations)
    places = np.interp(wanted, stations, corners.real) + 1j * np.interp(
        wanted, stations, corners.imag
    )
    return places, wanted * (part.length / stations[-1] if stations[-1] else 0.0)


def moves(points: Points, old: Edge, inward: complex) -> Lengths:
    """Return how far points lie outside the old line of an edge; negative inside, mm.

    The line is drawn on straight at both ends. `inward` is the factor of `Piece.inward`.
    """
    corners = [p for part in old.parts for p in part.flattened()]
    line = np.array(
        [
            corners[0] - old.parts[0].start_tangent * _DRAWN_ON,
            *corners,
            corners[-1] + old.parts[-1].end_tangent * _DRAWN_ON,
        ]
    )
    starts, ends = np.array([(a, b) for a, b in pairwise(line) if abs(b - a) > SAME_POINT]).T
    steps = ends - starts
    seen = (points[:, None] - starts) / steps
    nearest = starts + np.clip(seen.real, 0.0, 1.0) * steps
    apart = np.abs(points[:, None] - nearest)
    index = np.argmin(apart, axis=1)
    rows = np.arange(len(points))
    # A quarter turn by +i from the line's direction has a positive imaginary part.
    outside = seen[rows, index].imag * inward.imag < 0
    return np.asarray(np.where(outside, apart[rows, index], -apart[rows, index]), dtype=np.float64)
