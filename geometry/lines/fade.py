"""Weights that let a local change fade smoothly into the rest of a line.

Each returns a function from a length along a line to (share, slope per mm), for `Chain.shifted`.
The curve is the smoothstep 3s² - 2s³: no slope at either end, so what it meets stays smooth.
"""

from collections.abc import Callable

Weight = Callable[[float], tuple[float, float]]


def rising(start: float, end: float) -> Weight:
    """Return the weight that is 0 up to `start`, 1 from `end` on (mm along the line)."""

    def weight(length: float) -> tuple[float, float]:
        if length <= start:
            return 0.0, 0.0
        if length >= end:
            return 1.0, 0.0
        s = (length - start) / (end - start)
        return s * s * (3 - 2 * s), 6 * s * (1 - s) / (end - start)

    return weight


def falling(start: float, end: float) -> Weight:
    """Return the weight that is 1 up to `start`, 0 from `end` on (mm along the line)."""
    rise = rising(start, end)

    def weight(length: float) -> tuple[float, float]:
        share, slope = rise(length)
        return 1 - share, -slope

    return weight


def swelling(start: float, peak: float, end: float) -> Weight:
    """Return the weight that rises from 0 at `start` to 1 at `peak` and fades to 0 at `end`."""
    up, down = rising(start, peak), falling(peak, end)

    def weight(length: float) -> tuple[float, float]:
        return up(length) if length <= peak else down(length)

    return weight
