"""Draw a curve anew between moved ends, so that it bends as it did."""

from collections.abc import Callable
from itertools import product

import numpy as np

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Motion, Point, cross
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.redrawing.move_corner import beside, meeting
from trueup.geometry.tolerance import SAME_POINT

Triangle = tuple[Point, Point, Point]

_EASY = 20.0
"""A curve that bends no more tightly than this, mm, is left as it was stretched."""

_REACHES = tuple(k / 25 for k in range(8, 25))
_PLACES = np.linspace(0.0, 1.0, 33)
_HALVINGS = 20


def fitted_between_tangents(
    edge: Edge, at_start: Motion, at_end: Motion, start: Point, end: Point
) -> Edge | None:
    """Return a curved edge drawn between its ends after their motions, to their exact corners.

    The triangle of its two ends and the point where their tangents meet is taken to the new one,
    and the curve with it: so it sets out and arrives as the motions turn it, and bends one way
    where it bent one way. None where the edge starts or ends straight, or there is no such
    triangle. Raises CannotChange when a dart no longer meets the line.
    """
    line = closed(edge)
    old, last = line.chain, beside(line, at_end)
    if old.cubics[0].is_straight or old.cubics[-1].is_straight:
        return None
    leaving, arriving = old.start_tangent, old.end_tangent
    was = _triangle(old.start, leaving, old.end, arriving)
    now = _triangle(
        at_start(old.start), leaving * at_start.rotation, last(old.end), arriving * last.rotation
    )
    if was is None or now is None:
        return None
    placed = _taking(was, now)
    chain = Chain(tuple(Cubic(*(placed(point) for point in cubic)) for cubic in old.cubics))
    if len(chain.cubics) == 1:
        chain = Chain((_opened_up(chain.cubics[0], now[1]),))
    return meeting(line.opened(chain), start=start, end=end)


def _opened_up(curve: Cubic, top: Point) -> Cubic:
    """Return a curve whose controls slide along its tangents until it bends easily, or at its best.

    They slide no further towards the place of the widest bend than it takes.
    """
    if tightest(curve) >= _EASY:
        return curve
    widest = max(
        (_with_reaches(curve, top, near, far) for near, far in product(_REACHES, repeat=2)),
        key=tightest,
    )

    def slid(share: float) -> Cubic:
        return Cubic(
            curve.start,
            curve.start_control + share * (widest.start_control - curve.start_control),
            curve.end_control + share * (widest.end_control - curve.end_control),
            curve.end,
        )

    low, high = 0.0, 1.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if tightest(slid(middle)) >= _EASY else (middle, high)
    return slid(high)


def _with_reaches(curve: Cubic, top: Point, near: float, far: float) -> Cubic:
    start, end = curve.start, curve.end
    return Cubic(start, start + near * (top - start), end + far * (top - end), end)


def tightest(curve: Cubic) -> float:
    """Return the least radius of a curve at a row of places along it, mm."""
    a, b, c, d = curve
    first, second = b - a, a - 2 * b + c
    third = d - 3 * c + 3 * b - a
    velocity = 3 * (first + 2 * _PLACES * second + _PLACES**2 * third)
    bend = 6 * (second + _PLACES * third)
    turning = np.abs((velocity.conj() * bend).imag)
    return float((np.abs(velocity) ** 3 / np.maximum(turning, SAME_POINT)).min())


def _triangle(start: Point, leaving: complex, end: Point, arriving: complex) -> Triangle | None:
    """Return the triangle of a line's ends and where its tangents meet, ahead of both ends."""
    slant = cross(leaving, arriving)
    if abs(slant) < SAME_POINT:
        return None
    ahead, back = cross(end - start, arriving) / slant, cross(leaving, end - start) / slant
    if min(ahead, back) < SAME_POINT:
        return None
    return start, start + ahead * leaving, end


def _taking(was: Triangle, now: Triangle) -> Callable[[Point], Point]:
    """Return the affine map that takes one triangle to another."""
    start, top, end = was
    out, across = top - start, end - top
    new_start, new_top, new_end = now
    size = cross(out, across)

    def placed(point: Point) -> Point:
        step = point - start
        along, aside = cross(step, across) / size, cross(out, step) / size
        return new_start + along * (new_top - new_start) + aside * (new_end - new_top)

    return placed
