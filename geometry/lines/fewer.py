"""Draw a line with as few curves as show it: neighbours that run on smoothly are made one."""

from collections.abc import Callable
from functools import cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import degrees_between
from trueup.geometry.tolerance import REFIT, SAME_DIRECTION, SAME_POINT

_POINTS = np.linspace(0.0, 1.0, 9)

Places = Callable[[Cubic], NDArray[np.complex128]]
"""Gives points along a curve, evenly by its parameter."""


def with_fewer_curves(chain: Chain, within: float = REFIT) -> Chain:
    """Return the line drawn with fewer curves, nowhere further than `within` mm from it.

    Its ends and its directions there stay exactly; a corner stays a corner. A line that is redrawn
    again and again so keeps the number of curves that its shape asks for.
    """
    runs: list[list[Cubic]] = []
    drawn: list[Cubic] = []
    places = cache(_places)  # of a long run, each curve is asked for again with every next one
    for cubic in chain.cubics:
        whole = _one_for([*runs[-1], cubic], places, within) if runs else None
        if whole is None:
            runs.append([cubic])
            drawn.append(cubic)
        else:
            runs[-1].append(cubic)
            drawn[-1] = whole
    return chain if len(drawn) == len(chain.cubics) else Chain(tuple(drawn))


def _one_for(run: list[Cubic], places: Places, within: float) -> Cubic | None:
    """Return the one curve that lies along a run of curves, if any does.

    It sets out and arrives as they do; how far its controls reach follows by least squares from
    points of the run, each given the parameter that its share of the run's control arms asks for.
    """
    start, end = run[0].start, run[-1].end
    leaving, arriving = run[0].tangent(0.0), run[-1].tangent(1.0)
    if abs(end - start) < SAME_POINT or _turns(run[-2], run[-1]):
        return None
    way = end - start
    bent = max(degrees_between(leaving, way), degrees_between(way, arriving)) > SAME_DIRECTION
    if all(cubic.is_straight for cubic in run) and not bent:
        return Cubic.line(start, end)
    points, t = _sampled(run, places)
    near, far = 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2
    rest = points - start * ((1 - t) ** 3 + near) - end * (far + t**3)
    one, other = np.asarray(near * leaving), np.asarray(-far * arriving)
    reach = _least_squares(one, other, rest)
    if reach is None or min(reach) <= 0:
        return None
    whole = Cubic(start, start + leaving * reach[0], end - arriving * reach[1], end)
    away = one * reach[0] + other * reach[1] - rest
    return whole if _beside(whole, t, away) <= within else None


def _turns(before: Cubic, after: Cubic) -> bool:
    return degrees_between(before.tangent(1.0), after.tangent(0.0)) > SAME_DIRECTION


def _sampled(
    run: list[Cubic], places: Places
) -> tuple[NDArray[np.complex128], NDArray[np.float64]]:
    """Return points along a run of curves and the parameters they have on the one for all."""
    shares = [1.0]
    for before, after in pairwise(run):
        arriving, leaving = (
            abs(before.end - before.end_control),
            abs(after.start_control - after.start),
        )
        shares.append(shares[-1] * (leaving / arriving if arriving > SAME_POINT else 1.0))
    ends = np.cumsum([0.0, *shares]) / sum(shares)
    t = np.concatenate([low + _POINTS * (high - low) for low, high in pairwise(ends)])
    points = np.concatenate([places(cubic) for cubic in run])
    return points, t


def _places(cubic: Cubic) -> NDArray[np.complex128]:
    a, b, c, d = cubic
    t = _POINTS
    return np.asarray(
        (1 - t) ** 3 * a + 3 * (1 - t) ** 2 * t * b + 3 * (1 - t) * t**2 * c + t**3 * d
    )


def _beside(cubic: Cubic, t: NDArray[np.float64], away: NDArray[np.complex128]) -> float:
    """Return how far points lie beside a curve that lie some way from its points at parameters.

    What is left along the line is a matter of the parameter; where that is much, they count whole.
    """
    a, b, c, d = cubic
    velocity = (1 - t) ** 2 * (b - a) + 2 * (1 - t) * t * (c - b) + t**2 * (d - c)
    size = np.abs(velocity)
    if size.min() < SAME_POINT:
        return float(np.abs(away).max())
    step = away * velocity.conj() / size
    if np.abs(step.real).max() > cubic.span / 20:
        return float(np.abs(away).max())
    return float(np.abs(step.imag).max())


def _least_squares(
    one: NDArray[np.complex128], other: NDArray[np.complex128], rest: NDArray[np.complex128]
) -> tuple[float, float] | None:
    """Return the shares of two vectors that come nearest to what they shall add up to."""
    aa, bb = float(np.vdot(one, one).real), float(np.vdot(other, other).real)
    ab = float(np.vdot(one, other).real)
    ra, rb = float(np.vdot(one, rest).real), float(np.vdot(other, rest).real)
    scale = aa * bb - ab * ab
    if scale <= 1e-12 * aa * bb:
        return None
    return (ra * bb - rb * ab) / scale, (rb * aa - ra * ab) / scale
