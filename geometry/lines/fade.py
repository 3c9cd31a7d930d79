"""A local change of a line that fades smoothly into the rest of it.

A weight says for each length along a line which share of the change it takes there, and how much
that grows a mm. Its curve is the smoothstep 3s² - 2s³: no slope at either end, so what it meets
stays smooth.
"""

from collections.abc import Callable
from itertools import accumulate, pairwise

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic

Weight = Callable[[float], tuple[float, float]]


def shifted(line: Chain, direction: complex, weight: Weight) -> Chain:
    """Return a line moved by direction x weight, smooth where it was smooth.

    Each cubic gains the cubic that has the weight's value and slope at its two ends, so the
    join of two cubics keeps one tangent (Hermite form).
    """
    stations = accumulate((cubic.length for cubic in line.cubics), initial=0.0)
    cubics: list[Cubic] = []
    for cubic, (low, high) in zip(line.cubics, pairwise(stations), strict=True):
        (w_low, slope_low), (w_high, slope_high) = weight(low), weight(high)
        run_low = abs(cubic.start_control - cubic.start)
        run_high = abs(cubic.end - cubic.end_control)
        cubics.append(
            Cubic(
                cubics[-1].end if cubics else cubic.start + direction * w_low,
                cubic.start_control + direction * (w_low + slope_low * run_low),
                cubic.end_control + direction * (w_high - slope_high * run_high),
                cubic.end + direction * w_high,
            )
        )
    return Chain(tuple(cubics))


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
