"""One cubic Bézier curve: the atom of every seam line. A straight line is one too."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from geometry.points import Motion, Point, cross
from geometry.tolerance import LENGTH_ERROR, STRAIGHT

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)
_DEEPEST = 40


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

    def point(self, t: float) -> Point:
        """Return the point at parameter t in [0, 1]."""
        a, b, c, d = self._power
        return a + t * (b + t * (c + t * d))

    def velocity(self, t: float) -> complex:
        """Return the derivative by the parameter at t, mm."""
        _, b, c, d = self._power
        return b + t * (2 * c + t * 3 * d)

    def tangent(self, t: float) -> complex:
        """Return the unit direction of travel at t; where the curve pauses, that just inside it."""
        velocity = self.velocity(t)
        if abs(velocity) > STRAIGHT:
            return velocity / abs(velocity)
        inside = self.velocity(t + (1e-4 if t < 0.5 else -1e-4))
        return inside / abs(inside) if abs(inside) > 0 else 1 + 0j

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
        its two halves.
        """
        return self._refined(low, high, self._quadrature(low, high), _DEEPEST)

    def _quadrature(self, low: float, high: float) -> float:
        half = (high - low) / 2
        t = half * _NODES + (low + high) / 2
        _, b, c, d = self._power
        return half * float(np.abs(b + t * (2 * c + t * (3 * d))) @ _WEIGHTS)

    def _refined(self, low: float, high: float, whole: float, depth: int) -> float:
        middle = (low + high) / 2
        left, right = self._quadrature(low, middle), self._quadrature(middle, high)
        if abs(left + right - whole) < LENGTH_ERROR or depth == 0:
            return left + right
        return self._refined(low, middle, left, depth - 1) + self._refined(
            middle, high, right, depth - 1
        )

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
        """Return the parameters, in order, where the curve meets an endless straight line."""
        a, b, c, d = (cross(direction, p) for p in self._power)
        coefficients = [d, c, b, a - cross(direction, origin)]
        scale = max(abs(x) for x in coefficients[:3])
        if scale < STRAIGHT:
            return []
        while abs(coefficients[0]) < 1e-13 * scale:
            coefficients.pop(0)
        slack = 1e-9
        found = [
            min(max(float(root.real), 0.0), 1.0)
            for root in np.roots(coefficients)
            if abs(root.imag) < 1e-7 and -slack <= root.real <= 1 + slack
        ]
        return sorted(found)

    def flattened(self, tolerance: float) -> list[Point]:
        """Return points along the curve, without its start, no chord straying beyond tolerance mm.

        The count follows from the largest second difference of the control points (Wang's bound).
        """
        a, b, c, d = self
        bend = max(abs(a - 2 * b + c), abs(b - 2 * c + d))
        count = max(1, math.ceil(math.sqrt(0.75 * bend / tolerance)))
        return [self.point(k / count) for k in range(1, count)] + [d]
