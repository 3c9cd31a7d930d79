"""Draw a line anew whose stretches were moved apart, so that it stays fair and keeps its shape."""

import bisect
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import spline_slopes
from trueup.geometry.lines.points import Motion
from trueup.geometry.redrawing.trued_dart import Field, displaced


def spread_line(line: Chain, stations: Sequence[float], motions: Sequence[Motion]) -> Chain:
    """Return a line parted at some lengths, its stretches moved, and drawn as one fair line again.

    The middle of each stretch moves along with it, and so does either end of the line, with its
    direction. How far it moves between those is a cubic spline over its length, so that it keeps
    the shape it had. There is one motion more than there are `stations`, mm.
    """
    places = [0.0, *stations, line.length]
    middles = [(low + high) / 2 for low, high in pairwise(places)]
    knots = [0.0, *middles, line.length]
    of_stretches = [motions[0], *motions, motions[-1]]
    moved = [
        motion(point) - point
        for motion, point in zip(of_stretches, map(line.point_at, knots), strict=True)
    ]
    ends = (
        (motion.rotation - 1) * tangent
        for motion, tangent in (
            (motions[0], line.start_tangent),
            (motions[-1], line.end_tangent),
        )
    )
    fine = line.cut_at([*knots, *places])
    return displaced(fine, _spline(knots, moved, *ends))


def _spline(
    knots: Sequence[float], values: Sequence[complex], first: complex, last: complex
) -> Field:
    """Return the cubic spline with these values at its knots, and these slopes at its ends."""
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
