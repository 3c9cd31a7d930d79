"""One cubic Bézier curve: the atom of every seam line. A straight line is one too."""

import cmath
import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from msgspec import Struct

from trueup.geometry.kept import kept
from trueup.geometry.lines.points import Motion, Point, cross, dot
from trueup.geometry.lines.polynomials import roots_inside
from trueup.geometry.lines.quadrature import MOST_NODES, rule_for
from trueup.geometry.tolerance import FLATTEN, LENGTH_ERROR, SAME_POINT, STRAIGHT

_DEEPEST = 40

_once_for_equals = lru_cache(4096)
"""What a curve tells is worked out once for all that are equal: several versions of a piece have
most of theirs alike, each drawn for itself. A number of numpy is equal to one of Python, so what is
kept is made plain: whoever asks next may want to write it down."""

_PAUSE = 1e-9
"""Share of a curve's size; a control point nearer to its end than this gives no direction."""


class _Speed(NamedTuple):
    """The velocity b + ct + dt², what its size stays below, and the complex t at which it is 0."""

    b: complex
    c: complex
    d: complex
    most: float
    still: tuple[complex, ...]


class Cubic(Struct, frozen=True, dict=True, cache_hash=True):
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

    @kept
    def _power(self) -> tuple[complex, complex, complex, complex]:
        a, b, c, d = self.start, self.start_control, self.end_control, self.end
        return a, 3 * (b - a), 3 * (a - 2 * b + c), d - 3 * c + 3 * b - a

    @kept
    def span(self) -> float:
        """Return a length from its start beyond which the curve does not come, mm."""
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
        if abs(velocity) > _PAUSE * self.span:
            return velocity / abs(velocity)
        points = tuple(self.split(t)[1]) if t < 1.0 else tuple(self)[::-1]
        outwards = [p - points[0] for p in points[1:] if abs(p - points[0]) > _PAUSE * self.span]
        if not outwards:
            return 1 + 0j
        return outwards[0] / abs(outwards[0]) * (1 if t < 1.0 else -1)

    @kept
    def is_straight(self) -> bool:
        """Return whether the curve is its own chord."""
        legs = (
            abs(self.start_control - self.start)
            + abs(self.end_control - self.start_control)
            + abs(self.end - self.end_control)
        )
        return legs - abs(self.end - self.start) < LENGTH_ERROR

    @kept
    @_once_for_equals
    def length(self) -> float:
        """Return the arc length, mm, to `tolerance.LENGTH_ERROR`."""
        if self.is_straight:
            return float(abs(self.end - self.start))
        return float(self.length_between(0.0, 1.0))

    def length_between(self, low: float, high: float) -> float:
        """Return the arc length between two parameters, mm; negative when travelled backwards.

        Quadrature of the speed by a rule that is right for it. Where none is, the interval is
        halved at the place at which the curve is slowest: across a cusp or a hairpin the speed is
        not smooth.
        """
        return self._travelled(low, high, _DEEPEST)

    def _travelled(self, low: float, high: float, depth: int) -> float:
        if low == high:
            return 0.0
        span = high - low
        b, c, d, most, still = self._speed
        rule = rule_for(still, low, high, abs(span) * most, LENGTH_ERROR)
        if rule is None and depth > 0:
            middle = self._slowest(low, high)
            return self._travelled(low, middle, depth - 1) + self._travelled(
                middle, high, depth - 1
            )
        return span * sum(
            [
                share * abs(b + (t := low + span * place) * (c + t * d))
                for place, share in rule or MOST_NODES
            ]
        )

    def _slowest(self, low: float, high: float) -> float:
        """Return where to halve an interval: where the curve nearly pauses in it, if it does."""
        for place in self._speed.still:
            share = (place.real - low) / (high - low)
            if _PAUSE < share < 1 - _PAUSE and abs(place.imag) < abs(high - low):
                return place.real
        return (low + high) / 2

    @kept
    def _speed(self) -> "_Speed":
        p, q, r, s = self.start, self.start_control, self.end_control, self.end
        first, second, third = q - p, r - q, s - r
        b, c, d = 3 * first, 6 * (second - first), 3 * (third - 2 * second + first)
        most = 3 * max(abs(first), abs(second), abs(third))
        still: tuple[complex, ...]
        if abs(d) <= _PAUSE * most:
            still = (-b / c,) if abs(c) > _PAUSE * most else ()
        else:
            root = cmath.sqrt(c * c - 4 * b * d)
            larger = c + root if dot(c, root) >= 0 else c - root
            still = (-larger / (2 * d), -2 * b / larger) if larger else (0j,)
        return _Speed(b, c, d, most, still)

    @_once_for_equals
    def parameter_at(self, length: float) -> float:
        """Return the parameter at an arc length from the start; clamped to the curve's ends."""
        total = self.length
        if length <= 0.0 or total == 0.0:
            return 0.0
        if length >= total:
            return 1.0
        low, high, t = 0.0, 1.0, length / total
        excess = self.length_between(0.0, t) - length
        for _ in range(60):
            if abs(excess) < LENGTH_ERROR:
                break
            low, high = (low, t) if excess > 0 else (t, high)
            speed = abs(self.velocity(t))
            step = t - excess / speed if speed > 0 else low
            following = step if low < step < high else (low + high) / 2
            excess += self.length_between(t, following)
            t = following
        return float(t)

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
        turn, shift = motion.rotation, motion.shift
        a, b, c, d = self.start, self.start_control, self.end_control, self.end
        return Cubic(turn * a + shift, turn * b + shift, turn * c + shift, turn * d + shift)

    @kept
    def swept_area(self) -> float:
        """Return ½∮(x dy − y dx) along the curve, mm²: exact, by Green's theorem."""
        a, b, c, d = self.start, self.start_control, self.end_control, self.end
        return (cross(a, 6 * b + 3 * c + d) + 3 * cross(b, c + d) + 6 * cross(c, d)) / 20

    @_once_for_equals
    def crossings(self, origin: Point, direction: complex) -> Sequence[float]:
        """Return the parameters, in order, where the curve meets an endless straight line.

        A point within SAME_POINT of the line meets it, so a touch counts. A curve that runs along
        the line meets it everywhere and nowhere in particular: it returns none.
        """
        back = direction.conjugate() / abs(direction)
        a, b, c, d = [(p * back).imag for p in self._power]
        a -= (origin * back).imag
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
        a, b, c, d = self.start, self.start_control, self.end_control, self.end
        bend = max(abs(a - 2 * b + c), abs(b - 2 * c + d))
        count = max(1, math.ceil(math.sqrt(0.75 * bend / tolerance)))
        if count == 1:
            return [d]
        _, p, q, r = self._power
        return [a + (t := k / count) * (p + t * (q + t * r)) for k in range(1, count)] + [d]

    @kept
    def flat_points(self) -> tuple[Point, ...]:
        """Return points along the curve, without its start, no chord straying beyond FLATTEN."""
        return tuple(self.flattened(FLATTEN))
