"""A smooth line through given points: how a drafting curve is laid along its guide points."""

import bisect
import math
from collections.abc import Callable, Sequence
from itertools import pairwise

import numpy as np

from trueup.geometry.errors import BrokenOutline
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Point, turn_between, unit
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT


def smooth_line(points: Sequence[Point], leaving: complex, arriving: complex) -> Chain:
    """Return the smooth line through points, with a given direction at either end.

    It is the cubic spline whose direction and bend run on without a jump from point to point (C²),
    its parameter being the distance along the chords, so that it travels at about unit speed. One
    cubic for each pair of neighbouring points, mm. Directions may have any length but none.

    Raises BrokenOutline for fewer than two points or for neighbours that are one point.

    Source: the clamped cubic spline, as in any textbook on numerical analysis.

    >>> quarter = smooth_line([1 + 0j, (1 + 1j) / 2**0.5, 0 + 1j], leaving=1j, arriving=-1)
    >>> round(quarter.length, 2)
    1.57
    """
    if len(points) < 2:
        raise BrokenOutline(said("too-few-points"))
    chords = np.array([after - before for before, after in pairwise(points)])
    spans = np.abs(chords)
    if spans.min() < SAME_POINT:
        raise BrokenOutline(said("twice-through", point=str(points[spans.argmin()])))
    velocities = spline_slopes(chords, spans, unit(leaving), unit(arriving))
    cubics = (
        Cubic(start, start + v_start * span / 3, end - v_end * span / 3, end)
        for (start, end), (v_start, v_end), span in zip(
            pairwise(points), pairwise(velocities), spans.tolist(), strict=True
        )
    )
    return Chain(tuple(cubics))


def smooth_join(start: Point, leaving: complex, end: Point, arriving: complex) -> Chain:
    """Return one fair cubic between two points with given directions.

    The controls reach out by the length that makes a circular arc of equal turns:
    chord / (3 cos²(turn/4)). Raises BrokenOutline when the two points are one.
    """
    chord = end - start
    if abs(chord) < SAME_POINT:
        raise BrokenOutline(said("fair-to-itself", point=str(start)))
    half_turn = (abs(turn_between(leaving, chord)) + abs(turn_between(chord, arriving))) / 2
    reach = abs(chord) / (3 * max(math.cos(half_turn / 2) ** 2, 0.25))
    return Chain((Cubic(start, start + unit(leaving) * reach, end - unit(arriving) * reach, end),))


def fair_line(points: Sequence[Point], leaving: complex, arriving: complex) -> Chain:
    """Return the smooth line through points that is straight as far as they lie so at its ends.

    Where the first points lie straight on in the direction it leaves in, or the last ones in that
    it arrives in, it runs straight through them, and is a `smooth_line` only between. A spline
    through all of them would swing out a little before it bends. Raises BrokenOutline as that does.

    >>> bump = fair_line([0j, 20 + 0j, 50 + 8j, 80 + 0j, 100 + 0j], leaving=1, arriving=1)
    >>> bump.cubics[0].is_straight, bump.cubics[-1].is_straight
    (True, True)
    """
    first = _straight_on(points, unit(leaving))
    last = len(points) - 1 - _straight_on(points[::-1], -unit(arriving))
    if first >= last:
        straight = first == len(points) - 1
        return Chain.line(*points) if straight else smooth_line(points, leaving, arriving)
    between = smooth_line(points[first : last + 1], leaving, arriving)
    before = [Chain.line(*points[: first + 1])] if first else []
    after = [Chain.line(*points[last:])] if last < len(points) - 1 else []
    return Chain.joining([*before, between, *after])


def _straight_on(points: Sequence[Point], heading: complex) -> int:
    """Return which is the last of the points that lie straight ahead of the first."""
    reached = 0.0
    for k, point in enumerate(points[1:], 1):
        ahead = (point - points[0]) / heading
        if abs(ahead.imag) > SAME_POINT or ahead.real < reached + SAME_POINT:
            return k - 1
        reached = ahead.real
    return len(points) - 1


def spline_slopes(
    chords: np.ndarray[tuple[int], np.dtype[np.complex128]],
    spans: np.ndarray[tuple[int], np.dtype[np.float64]],
    leaving: complex,
    arriving: complex,
) -> list[complex]:
    """Return the derivative at each point that lets the second derivative run on unbroken."""
    count = len(spans) + 1
    matrix = np.eye(count)
    wanted = np.zeros(count, dtype=complex)
    wanted[0], wanted[-1] = leaving, arriving
    for k in range(1, count - 1):
        before, after = spans[k - 1], spans[k]
        matrix[k, k - 1 : k + 2] = after, 2 * (before + after), before
        wanted[k] = 3 * (after * chords[k - 1] / before + before * chords[k] / after)
    solved: list[complex] = np.linalg.solve(matrix, wanted).tolist()
    return solved


def spline_field(
    knots: Sequence[float], values: Sequence[complex], first: complex, last: complex
) -> Callable[[float], tuple[complex, complex]]:
    """Return the cubic spline with these values at its knots, and these slopes at its ends.

    Asked at a place, it tells its value there and how that changes.
    """
    spans = np.diff(np.array(knots))
    slopes = spline_slopes(np.diff(np.array(values)), spans, first, last)

    def field(at: float) -> tuple[complex, complex]:
        k = min(max(bisect.bisect_right(knots, at) - 1, 0), len(knots) - 2)
        span = knots[k + 1] - knots[k]
        s = min(max((at - knots[k]) / span, 0.0), 1.0)
        step, one, other = values[k + 1] - values[k], slopes[k] * span, slopes[k + 1] * span
        # Hermite's form of the cubic, and its derivative.
        b, c = 3 * step - 2 * one - other, one + other - 2 * step
        return values[k] + s * (one + s * (b + s * c)), (one + s * (2 * b + 3 * s * c)) / span

    return field
