"""The straight bits of a line, and which of them lies nearest to a point: for many points at once.

Of many bits those that follow each other are grouped. Of most groups it is told at once that the
nearest is not among them: by how far a corner of the group lies, and how far it reaches from there.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from trueup.geometry.kept import kept
from trueup.geometry.lines.points import Point

_GROUP = 8
_FEW = 6 * _GROUP
_NO_LENGTH = 1e-300
_ROUNDING = 1e-9

Points = NDArray[np.complex128]
Distances = NDArray[np.float64]
Places = NDArray[np.intp]


@dataclass(frozen=True, eq=False)
class StraightBits:
    """The straight bits of a line, in order; at least one."""

    starts: Points
    ends: Points

    def nearest(self, points: Points) -> tuple[Distances, Places]:
        """Return how far each point lies from the line, mm, and from which bit of it."""
        if len(self.starts) <= _FEW:
            bits = self.squared(points[:, None], slice(None)).argmin(axis=1)
        else:
            bits = self._nearest_of_many(points)
        return self.apart(points, bits), bits

    def _nearest_of_many(self, points: Points) -> Places:
        groups, corners, reaches = self._groups
        apart = _apart(points[:, None], corners)
        point, group = (apart - reaches <= apart.min(axis=1, keepdims=True)).nonzero()
        bits = groups[group]
        squared = self.squared(points[point][:, None], bits)
        rows, best = np.arange(len(bits)), squared.argmin(axis=1)
        nearest_first = np.lexsort((squared[rows, best], point))
        first = nearest_first[point.searchsorted(np.arange(len(points)))]
        return np.asarray(bits[first, best[first]])

    def squared(self, points: Points, bits: Places | slice) -> Distances:
        """Return the square of how far each point lies from one of the bits, mm²."""
        left, top, across, down, square = (each[bits] for each in self._ways)
        x, y = points.real - left, points.imag - top
        along = np.minimum(np.maximum((x * across + y * down) / square, 0.0), 1.0)
        x, y = x - along * across, y - along * down
        return np.asarray(x * x + y * y)

    def apart(self, points: Points, bits: Places) -> Distances:
        """Return how far each point lies from one of the bits, mm."""
        left, top, across, down, square = (each[bits] for each in self._ways)
        x, y = points.real - left, points.imag - top
        along = (x * across + y * down) / square
        aside = np.abs(x * down - y * across) / square * np.sqrt(square)
        past_start, past_end = along <= 0.0, along >= 1.0
        from_end = _apart(points, np.where(past_end, self.ends[bits], self.starts[bits]))
        return np.where(past_start | past_end, from_end, aside)

    def foot(self, point: Point, bit: int) -> Point:
        """Return the point of a bit that lies nearest to a point."""
        start, end = complex(self.starts[bit]), complex(self.ends[bit])
        way, there = end - start, point - start
        square = max(way.real * way.real + way.imag * way.imag, _NO_LENGTH)
        along = (there.real * way.real + there.imag * way.imag) / square
        if 0.0 < along < 1.0:
            return start + along * way
        return start if along <= 0.0 else end

    @kept
    def _ways(self) -> tuple[Distances, ...]:
        """Return x and y of each bit, how far it goes across and down, and its length squared."""
        left, top = self.starts.real.copy(), self.starts.imag.copy()
        across, down = self.ends.real - left, self.ends.imag - top
        return left, top, across, down, np.maximum(across * across + down * down, _NO_LENGTH)

    @kept
    def _groups(self) -> tuple[Places, Points, Distances]:
        """Return the bits of each group, a corner of each, and how far it reaches from there."""
        last = len(self.starts) - 1
        groups = np.arange(0, last + 1, _GROUP)[:, None] + np.arange(_GROUP)
        groups = np.minimum(groups, last)
        corners = self.starts[groups[:, _GROUP // 2]]
        from_corner = [_apart(ends[groups], corners[:, None]) for ends in (self.starts, self.ends)]
        return groups, corners, np.max(from_corner, axis=(0, 2)) + _ROUNDING


def _apart(points: Points, others: Points) -> Distances:
    x, y = points.real - others.real, points.imag - others.imag
    return np.sqrt(x * x + y * y)
