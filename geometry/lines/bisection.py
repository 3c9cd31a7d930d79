"""Find where a function of one amount comes to nothing: a bracketed secant."""

from collections.abc import Callable

_MOST_STEPS = 100


def root_between(
    function: Callable[[float], float], low: float, high: float, tolerance: float
) -> float | None:
    """Return an amount between `low` and `high` at which a function is within tolerance of 0.

    The Illinois form of the secant rule: the bracket is kept, and the value at an end that stands
    still is halved, so that it cannot creep. Returns None when the function has the same sign at
    both ends, or does not come within tolerance.
    """
    at_low, at_high = function(low), function(high)
    for amount, value in ((low, at_low), (high, at_high)):
        if abs(value) <= tolerance:
            return amount
    if at_low * at_high > 0:
        return None
    for _ in range(_MOST_STEPS):
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        value = function(middle)
        if abs(value) <= tolerance:
            return middle
        if value * at_high < 0:
            low, at_low = high, at_high
        else:
            at_low /= 2
        high, at_high = middle, value
    return None
