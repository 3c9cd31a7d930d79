"""Fair cubics along an edge, straight where it is straight, its corners kept. In mm.

Between two corners the edge is a smoothing spline: the calmest line that lies as near to the points
as they are noisy. Source: P. Dierckx, "Curve and Surface Fitting with Splines" (1993), as in scipy.
"""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from scipy.interpolate import PPoly, splprep

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.fewer import with_fewer_curves
from trueup.geometry.lines.points import Point
from trueup.lineage.drawings.photographs.outlines.turning import Corner
from trueup.lineage.drawings.photographs.view import Places

NOISE = 0.1
"""Points of an edge lie usually so far from it: cut card is no smoother, a sharp picture finds it
so well."""

STRAIGHT = 0.3
"""A line no farther than this from its points, softened, is meant to be straight."""

REDRAWN = 0.03
"""Fewer curves may stray so far from the spline."""

_ROUNDED = 2.0
"""So near to a corner, points have been rounded off."""

_FIRM = 50.0
"""A corner counts as so many points."""


def fair(edge: Places, corners: Sequence[Corner]) -> Chain:
    """Return the closed line along an edge; it starts at a corner, where there is one."""
    if not corners:
        return _round(edge)
    runs = []
    for here, there in zip(corners, [*corners[1:], corners[0]], strict=True):
        stop = there.index if there.index > here.index else there.index + len(edge)
        between = edge[np.arange(here.index, stop + 1) % len(edge)]
        runs.append(_between(here.at, between, there.at))
    whole = Chain.joining(runs)
    return whole.ending_at(whole.start)


def _between(start: Point, points: Places, end: Point) -> Chain:
    near = np.minimum(np.abs(points - start), np.abs(points - end))
    inner = points[near > _ROUNDED]
    if len(inner) < 3 or _is_straight(start, inner, end):
        return Chain.line(start, end)
    places = np.concatenate([[start], inner, [end]])
    weight = np.ones(len(places))
    weight[[0, -1]] = _FIRM
    spline = _spline(places, weight, closed=False)
    return with_fewer_curves(spline, REDRAWN).starting_at(start).ending_at(end)


def _is_straight(start: Point, points: Places, end: Point) -> bool:
    if abs(end - start) < 1e-6:
        return False
    aside = ((points - start) / (end - start)).imag * abs(end - start)
    wide = min(7, len(aside))
    return bool(np.abs(np.convolve(aside, np.ones(wide) / wide, "valid")).max() < STRAIGHT)


def _round(edge: Places) -> Chain:
    places = np.append(edge, edge[0])
    whole = with_fewer_curves(_spline(places, np.ones(len(places)), closed=True), REDRAWN)
    return whole.ending_at(whole.start)


def _spline(places: Places, weight: np.ndarray, *, closed: bool) -> Chain:
    (knots, shares, degree), _ = splprep(
        [places.real, places.imag], w=weight, s=len(places) * NOISE**2, k=3, per=int(closed)
    )
    parts = [PPoly.from_spline((knots, each, degree)) for each in shares]
    cubics: list[Cubic] = []
    # A closed spline has knots beyond its ends.
    first, last = knots[degree], knots[-degree - 1]
    for k, (low, high) in enumerate(pairwise(parts[0].x)):
        if high <= low or low < first or high > last:
            continue
        span = high - low
        d, c, b, a = (complex(*each) for each in zip(*(p.c[:, k] for p in parts), strict=True))
        b, c, d = b * span, c * span**2, d * span**3
        start = a if not cubics else cubics[-1].end
        cubics.append(Cubic(start, a + b / 3, a + 2 * b / 3 + c / 3, a + b + c + d))
    return Chain(tuple(cubics))
