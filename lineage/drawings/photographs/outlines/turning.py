"""The corners of an edge: where its line, drawn on from either side, arrives in two directions.

From each point a curve is laid along the edge on either side, leaving out the point's own
neighbourhood, where light has rounded the corner; where both curves lie well and their directions
differ, there is a corner, and it is where they meet. A bend, however tight, has one direction.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from trueup.lineage.drawings.photographs.view import Places

SHARP_DEGREES = 14.0
"""Where the line turns by so much at a point it has a corner there; by less it runs on."""

_NEAR = 2
"""So many points at a corner are left out: blur has rounded them."""

_ARMS = (14, 8)
"""A curve is laid along so many points; where that is farther than to the next corner, so many."""

_LIES = 0.12
"""A curve that lies so well along its points, mm, is the edge; where that is cut or seen more
roughly, one that lies three times worse than is usual."""

_APART = 9
"""Corners lie farther apart than so many points."""

_FARTHEST = 2.5
"""A corner lies so near to a point of the edge, mm; the tip of a V as much farther as it is
acute."""


@dataclass(frozen=True)
class Corner:
    """A corner: which point of the edge is next to it, where it is, and the two directions."""

    index: int
    at: complex
    arriving: complex
    leaving: complex


def corners_of(edge: Places) -> list[Corner]:
    """Return the corners of a closed edge whose points lie about 1 mm apart, in their order."""
    found = [each for arm in _ARMS for each in _with_arms(edge, arm)]
    count = len(edge)
    kept: list[Corner] = []
    for _, corner in sorted(found, key=lambda each: (each[0], each[1].index)):
        away = (abs((corner.index - k.index + count // 2) % count - count // 2) for k in kept)
        if all(each > _APART for each in away):
            kept.append(corner)
    return sorted(kept, key=lambda each: each.index)


def _with_arms(edge: Places, arm: int) -> list[tuple[float, Corner]]:
    """Return the points that look like corners, each with how poorly it does."""
    if len(edge) < 2 * (arm + _NEAR) + 1:
        return []
    after, leaving, off_after = _laid(edge, arm)
    before, arriving, off_before = _laid(edge[::-1], arm)
    before, arriving, off_before = before[::-1], -arriving[::-1], off_before[::-1]
    turn = np.angle(leaving / arriving)
    across = (leaving * np.conj(arriving)).imag
    step = ((before - after) * np.conj(arriving)).imag / np.where(np.abs(across) < 1e-3, 1, across)
    at = after + leaving * step
    half = np.maximum(np.cos(turn / 2), 0.08)
    poor = np.maximum(off_after, off_before)
    good = (
        (np.abs(turn) > np.radians(SHARP_DEGREES))
        & (poor < np.maximum(_LIES, 3 * np.median(off_after)))
        & (np.abs(at - edge) < _FARTHEST / half)
    )
    # Of neighbours that all look like the corner it is the one that it lies nearest to; a longer
    # curve tells more.
    poor = poor + 0.1 * np.abs(at - edge) * half + (0.0 if arm == _ARMS[0] else 0.05)
    return [
        (float(poor[i]), Corner(i, complex(at[i]), complex(arriving[i]), complex(leaving[i])))
        for i in np.flatnonzero(good).tolist()
    ]


def _laid(edge: Places, arm: int) -> tuple[Places, Places, NDArray[np.float64]]:
    """Return, for the curve laid along what follows each point, where and in which direction it
    begins at that point, and how far off its points are."""
    along = np.arange(_NEAR, _NEAR + arm, dtype=float)
    terms = np.stack([np.ones_like(along), along, along**2], axis=1)
    solve = np.linalg.pinv(terms)
    points = np.stack([np.roll(edge, -int(k)) for k in along], axis=1)
    shares = points @ solve.T
    off = np.sqrt((np.abs(points - shares @ terms.T) ** 2).mean(axis=1))
    way = shares[:, 1]
    return shares[:, 0], way / np.maximum(np.abs(way), 1e-9), off
