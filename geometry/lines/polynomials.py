"""The roots of a polynomial between nought and one: where a curve meets a line, or is nearest."""

import math
from collections.abc import Sequence

import numpy as np

_VANISHING = 1e-13
"""Share of the largest coefficient; a leading one smaller than this is rounding noise."""

_STEEP = 1e6
"""A cubic whose other coefficients outweigh its first by more than this is left to the library."""


def roots_inside(coefficients: Sequence[float]) -> list[float]:
    """Return candidates for the roots in [0, 1] of a polynomial, highest power first.

    They are the real parts of all its roots, clamped and polished, so that none is missed for
    rounding noise; the caller keeps those at which its polynomial really vanishes.
    """
    plain = [float(x) for x in coefficients]  # numpy's own would go on into all that is told
    largest = max(map(abs, plain))
    if largest == 0.0:
        return []
    scaled = [x / largest for x in plain]
    while abs(scaled[0]) < _VANISHING:
        scaled.pop(0)
    return [_polished(scaled, _clamped(part)) for part in _real_parts(scaled)]


def _polished(coefficients: list[float], t: float) -> float:
    """Return a root bettered by Newton's steps, for as long as they better it."""
    value, slope = _value_and_slope(coefficients, t)
    for _ in range(20):
        if value == 0 or slope == 0:
            break
        step = _clamped(t - value / slope)
        following, following_slope = _value_and_slope(coefficients, step)
        if abs(following) >= abs(value):
            break
        t, value, slope = step, following, following_slope
    return t


def _value_and_slope(coefficients: list[float], t: float) -> tuple[float, float]:
    value = slope = 0.0
    for coefficient in coefficients:
        slope = slope * t + value
        value = value * t + coefficient
    return value, slope


def _clamped(t: float) -> float:
    return min(max(t, 0.0), 1.0)


def _real_parts(coefficients: Sequence[float]) -> list[float]:
    """Return the real parts of all roots, real and complex."""
    match coefficients:
        case [_]:
            return []
        case [a, b]:
            return [-b / a]
        case [a, b, c]:
            return _of_quadratic(b / a, c / a)
        case [a, b, c, d] if max(abs(b), abs(c), abs(d)) < _STEEP * abs(a):
            return _of_cubic(b / a, c / a, d / a)
    return [float(root.real) for root in np.roots(coefficients)]


def _of_quadratic(b: float, c: float) -> list[float]:
    """Return the real parts of the roots of t² + bt + c."""
    discriminant = b * b - 4 * c
    if discriminant <= 0:
        return [-b / 2, -b / 2]
    far = -(b + math.copysign(math.sqrt(discriminant), b)) / 2
    return [far, c / far if far else 0.0]


def _of_cubic(b: float, c: float, d: float) -> list[float]:
    """Return the real parts of the roots of t³ + bt² + ct + d.

    One real root by Cardano's formula or, where there are three, by Viète's cosines; the other two
    from the quadratic that is left, divided out from the end that keeps it exact.
    """
    third = b / 3
    p, q = c - b * third, third * (2 * third * third - c) + d
    discriminant = q * q / 4 + p * p * p / 27
    if discriminant > 0:
        u = -math.copysign(math.cbrt(abs(q) / 2 + math.sqrt(discriminant)), q)
        root = u - p / (3 * u) - third
    else:
        reach = 2 * math.sqrt(max(-p, 0.0) / 3)
        cosine = min(max(3 * q / (p * reach), -1.0), 1.0) if reach else 1.0
        root = reach * math.cos(math.acos(cosine) / 3) - third
    if abs(root) > 1:
        last = -d / root
        return [root, *_of_quadratic((last - c) / root, last)]
    first = b + root
    return [root, *_of_quadratic(first, c + root * first)]
