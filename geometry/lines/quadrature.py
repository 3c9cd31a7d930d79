"""Gauss–Legendre quadrature of a speed, with as many nodes as a curve needs.

NIST Digital Library of Mathematical Functions 3.5(v) states the rules; L. N. Trefethen,
Approximation Theory and Approximation Practice (SIAM 2013), theorem 19.3, how wrong they can be.
"""

import cmath
import math
from collections.abc import Iterable

import numpy as np

Rule = tuple[tuple[float, float], ...]
"""Nodes on [0, 1], each with its share of the whole."""


def _rule(count: int) -> Rule:
    nodes, weights = np.polynomial.legendre.leggauss(count)
    return tuple(zip(((nodes + 1) / 2).tolist(), (weights / 2).tolist(), strict=True))


_RULES = tuple((2 * count - 4, _rule(count)) for count in (4, 5, 7, 10, 16, 24))
"""Each rule with the power to which the reach of a speed has to rise: see `rule_for`."""

MOST_NODES = _RULES[-1][1]


def reach(singular: Iterable[complex], low: float, high: float) -> float:
    """Return how far a function runs on smoothly about an interval: at least 1.

    The interval taken as [-1, 1], it is the sum of the half axes of the largest ellipse with the
    foci ±1 that holds none of the places at which the function is singular (Bernstein's ellipse).
    """
    middle, half = (low + high) / 2, (high - low) / 2
    found = math.inf
    for place in singular:
        seen = (place - middle) / half
        root = cmath.sqrt(seen * seen - 1)
        found = min(found, max(abs(seen + root), abs(seen - root)))
    return found


def rule_for(
    singular: Iterable[complex], low: float, high: float, most: float, error: float
) -> Rule | None:
    """Return the rule that is right to `error` for the speed of a curve, None where none is.

    `most` bounds the speed times the interval. On the ellipse of a reach ρ a speed is at most ρ²
    times that, for a velocity is of the second degree (Bernstein's inequality), and n nodes are
    wrong by at most 64/15 · ρ² · most · ρ^(2 - 2n) / (1 - ρ^(-2)).
    """
    if 2 * most <= error:
        return _RULES[0][1]  # neither the length nor what any rule says of it is more than that
    far = reach(singular, low, high)
    if far <= 1.0:
        return None
    wanted = 64 / 15 * most / (error * (1 - 1 / (far * far)))
    for power, rule in _RULES:
        if far**power >= wanted:
            return rule
    return None
