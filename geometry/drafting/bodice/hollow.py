"""An armhole drawn as one hollow. Lengths in mm."""

from collections.abc import Callable

from trueup.geometry.lines.bisection import root_between
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Point, cross, unit
from trueup.geometry.tolerance import SAME_LENGTH

_SHORTEST, _LONGEST = 0.02, 0.98
_TOUCHES = 0.01
_LEAST_ABOVE, _MOST_ABOVE = 0.1, 0.8
_PLACES = 64


def hollow(
    start: Point, leaving: complex, end: Point, arriving: complex, corner: Point, out: float
) -> Chain:
    """Return one curve from the shoulder to the underarm that bends one way only.

    It touches the upright line through `corner`, as far as a curve square to the shoulder can, and
    passes `out` mm from the corner, half way between that line and the level of the underarm. Its
    controls lie on the tangents at its ends, before these meet, so it cannot wave.
    """
    reach = cross(end - start, arriving) / cross(leaving, arriving)
    top = start + reach * leaving
    way = unit(unit(end - corner) - 1j)
    side = 1.0 if corner.real > end.real else -1.0

    def drawn(above: float, below: float) -> Cubic:
        return Cubic(start, start + above * (top - start), end + below * (top - end), end)

    def passing(above: float) -> Cubic:
        def farther(below: float) -> float:
            curve = Chain((drawn(above, below),))
            met = [abs(point - corner) for point in curve.meetings(corner, way)]
            return min(met, default=0.0) - out

        return drawn(above, _root_or_nearest(farther, _SHORTEST, _LONGEST, SAME_LENGTH))

    def beyond(above: float) -> float:
        curve = passing(above)
        widest = max(side * curve.point(k / _PLACES).real for k in range(_PLACES + 1))
        return widest - side * corner.real

    return Chain((passing(_root_or_nearest(beyond, _LEAST_ABOVE, _MOST_ABOVE, _TOUCHES)),))


def _root_or_nearest(
    function: Callable[[float], float], low: float, high: float, tolerance: float
) -> float:
    """Return where a function comes to nothing, or the end at which it comes nearest."""
    root = root_between(function, low, high, tolerance)
    return min((low, high), key=lambda each: abs(function(each))) if root is None else root
