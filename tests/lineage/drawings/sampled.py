"""Lines judged by sampling alone: points from the Bernstein form, distances by shapely."""

import numpy as np
from shapely.geometry import LineString

from tests.builders import block

_T = np.linspace(0.0, 1.0, 100)


def sampled(curves):
    """Return points along curves, each two points (straight) or four (cubic)."""
    found = []
    for curve in curves:
        if len(curve) == 2:
            found.append(np.array(curve))
        else:
            a, b, c, d = curve
            t, u = _T, 1 - _T
            found.append(u**3 * a + 3 * u**2 * t * b + 3 * u * t**2 * c + t**3 * d)
    return np.concatenate(found)


def line_of(curves):
    return LineString([(p.real, p.imag) for p in sampled(curves)])


def apart(one, other):
    """Return how far two lines lie apart at most, mm: each of curves as `sampled` takes them."""
    return line_of(one).hausdorff_distance(line_of(other))


def outlines(draft=None, left=50.0, top=60.0, gap=40.0):
    """Return the outlines of a draft's pieces side by side, darts as notches, as curves."""
    found, right = [], left
    for piece in (draft or block()).pieces:
        points = piece.outline_points
        low, high = min(p.real for p in points), max(p.real for p in points)
        shift = complex(right - low, top - min(p.imag for p in points))
        right += high - low + gap
        found.append(
            [
                [p + shift for p in ((c.start, c.end) if c.is_straight else tuple(c))]
                for edge in piece.edges
                for c in edge.outline.cubics
            ]
        )
    return found
