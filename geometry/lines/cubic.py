"""One cubic Bézier curve: the atom of every seam line. A straight line is one too."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np

from trueup.geometry.lines.points import Motion, Point, cross, dot
from trueup.geometry.lines.polynomials import roots_inside
from trueup.geometry.lines.quadrature import PLACES, RULES
from trueup.geometry.tolerance import FLATTEN, LENGTH_ERROR, SAME_POINT, STRAIGHT

_DEEPEST = 40

_PAUSE = 1e-9
"""Share of a curve's size; a control point nearer to its end than this gives no direction."""


@dataclass(frozen=True)
class Cubic:
    """A cubic Bézier curve from `start` to `end`, points in mm."""

    start: Point
    start_control: Point
    end_control: Point
    end: Point

    @classmethod
    def line(cls, start: Point, end: Point) -> "Cubic":
        """Return the straight line between two points."""
        third = (end - start) / 3
        return cls(start, start + third, end - third, end)

    def __iter__(self) -> Iterator[Point]:
        return iter((self.start, self.start_control, self.end_control, self.end))

    @cached_property
    def _power(self) -> tuple[complex, complex, complex, complex]:
        a, b, c, d = self
        return a, 3 * (b - a), 3 * (a - 2 * b + c), d - 3 * c + 3 * b - a

    @cached_property
    def _span(self) -> float:
        return max(abs(p - self.start) for p in self)

    def point(self, t: float) -> Point:
        """Return the point at parameter t in [0, 1]; at 0 and 1 exactly the ends."""
        if t == 1.0:
            return self.end
        a, b, c, d = self._power
        return a + t * (b + t * (c + t * d))

    def velocity(self, t: float) -> complex:
        """Return the derivative by the parameter at t, mm."""
        _, b, c, d = self._power
        return b + t * (2 * c + t * 3 * d)

    def tangent(self, t: float) -> complex:
        """Return the unit direction of travel at t.

        Where the curve pauses (a control point lies on its end, or a cusp), it is the direction in
        which the curve goes on, and at its very end the one in which it arrives. A curve that is
        one point has no direction; it is given 1, the x axis.
        """
        velocity = self.velocity(t)
        if abs(velocity) > _PAUSE * self._span:
            return velocity / abs(velocity)
        points = tuple(self.split(t)[1]) if t < 1.0 else tuple(self)[::-1]
        outwards = [p - points[0] for p in points[1:] if abs(p - points[0]) > _PAUSE * self._span]
        if not outwards:
            return 1 + 0j
        return outwards[0] / abs(outwards[0]) * (1 if t < 1.0 else -1)

    @cached_property
    def is_straight(self) -> bool:
        """Return whether the curve is its own chord."""
        legs = (
            abs(self.start_control - self.start)
            + abs(self.end_control - self.start_control)
            + abs(self.end - self.end_control)
        )
        return legs - abs(self.end - self.start) < LENGTH_ERROR

    @cached_property
    def length(self) -> float:
        """Return the arc length, mm, to `tolerance.LENGTH_ERROR`."""
        if self.is_straight:
            return abs(self.end - self.start)
        return self.length_between(0.0, 1.0)

    def length_between(self, low: float, high: float) -> float:
        """Return the arc length between two parameters, mm.

        Gauss–Legendre quadrature of the speed with sixteen nodes, halved until a step agrees with
        its two halves. It starts afresh where the curve is slowest, for across a cusp or a hairpin
        both may agree and be wrong.
        """
        bounds = (low, *(t for t in self.slow_places if low < t < high), high)
        return sum(self._refined(a, b, _DEEPEST) for a, b in pairwise(bounds))

    @cached_property
    def slow_places(self) -> tuple[float, ...]:
        """Return the parameters at which the speed may come near nought, in order.

        The speed of a curve whose three control legs make acute angles with one another is at
        least the shortest leg times √3, so it has no such place unless that leg is very short.
        """
        legs = [b - a for a, b in pairwise(self)]
        shortest, longest = min(map(abs, legs)), max(map(abs, legs))
        acute = all(dot(legs[j], legs[k]) > 0 for j, k in ((0, 1), (1, 2), (0, 2)))
        if acute and shortest > longest / 20:
            return ()
        _, b, c, d = self._power
        growth = (18 * dot(d, d), 18 * dot(c, d), 4 * dot(c, c) + 6 * dot(b, d), 2 * dot(b, c))
        return tuple(sorted(t for t in roots_inside(growth) if 0.0 < t < 1.0))

    def _refined(self, low: float, high: float, depth: int) -> float:
        t = low + (high - low) * PLACES
        _, b, c, d = self._power
        whole, halves = (high - low) * (np.abs(b + t * (2 * c + t * (3 * d))) @ RULES)
        if abs(halves - whole) < LENGTH_ERROR or depth == 0:
            return float(halves)
        middle = (low + high) / 2
        return self._refined(low, middle, depth - 1) + self._refined(middle, high, depth - 1)

    def parameter_at(self, length: float) -> float:
        """Return the parameter at an arc length from the start; clamped to the curve's ends."""
        total = self.length
        if length <= 0.0 or total == 0.0:
            return 0.0
        if length >= total:
            return 1.0
        low, high, t = 0.0, 1.0, length / total
        for _ in range(60):
            excess = self.length_between(0.0, t) - length
            if abs(excess) < LENGTH_ERROR:
                break
            low, high = (low, t) if excess > 0 else (t, high)
            speed = abs(self.velocity(t))
            step = t - excess / speed if speed > 0 else low
            t = step if low < step < high else (low + high) / 2
        return t

    def split(self, t: float) -> tuple["Cubic", "Cubic"]:
        """Return the two curves either side of parameter t (de Casteljau's construction)."""
        a, b, c, d = self
        ab, bc, cd = a + t * (b - a), b + t * (c - b), c + t * (d - c)
        abc, bcd = ab + t * (bc - ab), bc + t * (cd - bc)
        middle = abc + t * (bcd - abc)
        return Cubic(a, ab, abc, middle), Cubic(middle, bcd, cd, d)

    def reversed(self) -> "Cubic":
        """Return the same curve travelled the other way."""
        return Cubic(self.end, self.end_control, self.start_control, self.start)

    def moved(self, motion: Motion) -> "Cubic":
        """Return the curve after a rigid motion."""
        return Cubic(*(motion(point) for point in self))

    @cached_property
    def swept_area(self) -> float:
        """Return ½∮(x dy − y dx) along the curve, mm²: exact, by Green's theorem."""
        a, b, c, d = self
        return (
            6 * cross(a, b)
            + 3 * cross(a, c)
            + cross(a, d)
            + 3 * cross(b, c)
            + 3 * cross(b, d)
            + 6 * cross(c, d)
        ) / 20

    def crossings(self, origin: Point, direction: complex) -> list[float]:
        """Return the parameters, in order, where the curve meets an endless straight line.

        A point within SAME_POINT of the line meets it, so a touch counts. A curve that runs along
        the line meets it everywhere and nowhere in particular: it returns none.
        """
        along = direction / abs(direction)
        a, b, c, d = (cross(along, p) for p in self._power)
        a -= cross(along, origin)
        if max(abs(b), abs(c), abs(d)) < STRAIGHT:
            return []
        found: list[float] = []
        for t in sorted([*roots_inside((d, c, b, a)), 0.0, 1.0]):
            meets = abs(a + t * (b + t * (c + t * d))) < SAME_POINT
            if meets and not (found and self._same_place(found[-1], t)):
                found.append(t)
        return found

    def _same_place(self, low: float, high: float) -> bool:
        apart = abs(self.point(high) - self.point(low))
        return apart < SAME_POINT and self.length_between(low, high) < SAME_POINT

    def nearest(self, point: Point) -> float:
        """Return the parameter at which the curve comes nearest to a point.

        There the line from the point meets the curve square, or an end is nearer still.
        """
        a, b, c, d = self._power
        place, speed = (d, c, b, a - point), (3 * d, 2 * c, b)
        square = np.convolve(np.real(place), np.real(speed)) + np.convolve(
            np.imag(place), np.imag(speed)
        )
        candidates = [*roots_inside(tuple(square)), 0.0, 1.0]
        return min(candidates, key=lambda t: abs(self.point(t) - point))

    def flattened(self, tolerance: float) -> list[Point]:
        """Return points along the curve, without its start, no chord straying beyond tolerance mm.

        The count follows from the largest second difference of the control points (Wang's bound).
        """
        a, b, c, d = self
        bend = max(abs(a - 2 * b + c), abs(b - 2 * c + d))
        count = max(1, math.ceil(math.sqrt(0.75 * bend / tolerance)))
        return [self.point(k / count) for k in range(1, count)] + [d]

    @cached_property
    def flat_points(self) -> tuple[Point, ...]:
        """Return points along the curve, without its start, no chord straying beyond FLATTEN."""
        return tuple(self.flattened(FLATTEN))
