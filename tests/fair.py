"""A judge of lines: curves sampled with numpy, darts closed by its own turns, nothing else used.

It calls nothing of the geometry that draws, closes or measures lines; it reads control points only.
"""

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from trueup.geometry.lines.chain import Chain
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge

Points = NDArray[np.complex128]

SAMPLES = 80
"""Points on each curve."""


def sampled(chain: Chain) -> Points:
    """Return points along a line, from Bernstein's polynomials."""
    t = np.linspace(0.0, 1.0, SAMPLES)
    runs = []
    for cubic in chain.cubics:
        a, b, c, d = cubic.start, cubic.start_control, cubic.end_control, cubic.end
        runs.append((1 - t) ** 3 * a + 3 * (1 - t) ** 2 * t * b + 3 * (1 - t) * t**2 * c + t**3 * d)
    return np.concatenate([runs[0], *(run[1:] for run in runs[1:])])


def lines_of(draft: Draft) -> dict[str, Points]:
    """Return points along each part of every line of a draft, by piece, edge and number."""
    return {
        f"{piece.name}.{edge.name}.{k}": sampled(part)
        for piece in draft.pieces
        for edge in piece.edges
        for k, part in enumerate(edge.parts)
    }


def closed_points(edge: Edge) -> Points:
    """Return points along an edge as it is sewn: every dart closed by a turn about its apex."""
    turn, shift = 1 + 0j, 0j
    runs = [sampled(edge.parts[0])]
    for dart, before, after in zip(edge.darts, edge.parts, edge.parts[1:], strict=False):
        rotation = np.exp(1j * np.angle((before.end - dart.apex) / (after.start - dart.apex)))
        turn, shift = turn * rotation, turn * (dart.apex - rotation * dart.apex) + shift
        runs.append(turn * sampled(after) + shift)
    return np.concatenate(runs)


def evenly(points: Points, step: float) -> Points:
    """Return points at about equal steps of length along a line through points."""
    along = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(points)))])
    wanted = np.linspace(0.0, along[-1], max(int(along[-1] / step), 4) + 1)
    real, imag = np.interp(wanted, along, points.real), np.interp(wanted, along, points.imag)
    return np.asarray(real + 1j * imag)


def headings(points: Points, step: float = 0.5) -> NDArray[np.float64]:
    """Return the direction of travel in degrees, step by step along a line."""
    steps = np.diff(evenly(points, step))
    return np.asarray(np.degrees(np.unwrap(np.angle(steps))))


def smallest_radius(points: Points, window: float = 5.0) -> float:
    """Return the radius of the tightest bend that is `window` mm long."""
    heading, steps = headings(points, 0.5), int(window / 0.5)
    turned = np.abs(heading[steps:] - heading[:-steps])
    return float(window / np.radians(max(turned.max(), 1e-6)))


def turns(points: Points, least: float = 1.0) -> list[float]:
    """Return by how many degrees a line turns each way in succession, turns below `least` ignored.

    A line that bends one way only has one turn; a wave has as many as it has crests.
    """
    heading = headings(points, 1.0)
    reached = [float(heading[0])]
    low = high = reached[0]
    rising = 0
    for each in map(float, heading):
        low, high = min(low, each), max(high, each)
        if rising >= 0 and high - each > least:
            reached.append(high)
            rising, low, high = -1, each, each
        elif rising <= 0 and each - low > least:
            reached.append(low)
            rising, low, high = 1, each, each
    reached.append(float(heading[-1]))
    return [b - a for a, b in pairwise(reached) if abs(b - a) > least]


def depth(points: Points) -> float:
    """Return how far a line strays from the straight line between its ends, mm."""
    way = points[-1] - points[0]
    return float(np.abs(((points - points[0]) / (way / abs(way))).imag).max())


def stands_out(points: Points, least: float = 3.0) -> float:
    """Return how far the flattest of a line's bends stands out, mm."""
    heading, places = headings(points, 1.0), evenly(points, 1.0)
    ends, at = [0], 0
    for turn in turns(points, least)[:-1]:
        reached = heading[at] + turn
        later = np.flatnonzero(np.abs(heading[at:] - reached) < 1e-9)
        at += int(later[0]) if len(later) else 0
        ends.append(at)
    ends.append(len(places) - 1)
    return min(depth(places[low : high + 1]) for low, high in pairwise(ends) if high > low)
