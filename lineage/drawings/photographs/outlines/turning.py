"""The corners of an edge: where its line, drawn on from either side, arrives in two directions.

From each point a curve is laid along the edge on either side, leaving out the point's own
neighbourhood, where light has rounded the corner; where both curves lie well and their directions
differ, there is a corner, and it is where they meet. A bend, however tight, has one direction.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from trueup.lineage.drawings.photographs.view import Places

SHARP_DEGREES = 14.0
"""Where the line turns by so much at a point it has a corner there; by less it runs on."""

_NEAR = 2
"""So many points at a corner are left out: blur has rounded them."""

_ARMS = ((14, SHARP_DEGREES), (8, 35.0))
"""A curve is laid along so many points; where that is farther than to the next corner, along fewer,
and then only what turns by more degrees is told from unevenness."""

_LIES = 0.12
"""A curve that lies so well along its points, mm, is the edge; where that is cut or seen more
roughly, one that lies three times worse than is usual."""

_APART = 9
"""Corners lie farther apart than so many points."""

_FARTHEST = 2.5
"""A corner lies so near to a point of the edge, mm; the tip of a V as much farther as it is
acute."""

_ACUTE = 15.0
"""Half of an angle, degrees, in whose tip light reaches from side to side."""

_LIGHT_REACHES = 1.5
"""... as far, mm, from either."""

_LEG = 30
"""So many points of a side of it are looked at."""


@dataclass(frozen=True)
class Corner:
    """A corner: which point of the edge is next to it, where it is, and the two directions."""

    index: int
    at: complex
    arriving: complex
    leaving: complex


def corners_of(edge: Places) -> list[Corner]:
    """Return the corners of a closed edge whose points lie about 1 mm apart, in their order."""
    found = [each for arm, sharp in _ARMS for each in _with_arms(edge, arm, sharp)]
    count = len(edge)
    kept: list[Corner] = []
    for _, corner in sorted(found, key=lambda each: (each[0], each[1].index)):
        away = (abs((corner.index - k.index + count // 2) % count - count // 2) for k in kept)
        if all(each > _APART for each in away):
            kept.append(corner)
    kept.sort(key=lambda each: each.index)
    return [_in_a_tip(edge, kept, k) for k in range(len(kept))]


def _in_a_tip(edge: Places, corners: Sequence[Corner], which: int) -> Corner:
    """Return a corner where its lines meet that come from where the light of both is apart.

    In the tip of a V the light of one side reaches the other, and both seem moved; its lines are
    taken to be straight from there. Any other corner stays as it is.
    """
    corner, count = corners[which], len(edge)
    half = (np.pi - abs(np.angle(corner.leaving / corner.arriving))) / 2
    if half > np.radians(_ACUTE):
        return corner
    apart = int(_LIGHT_REACHES / np.sin(max(half, 0.02)))
    others = [(each.index - corner.index) % count for each in corners if each is not corner]
    lines = []
    for room, way in ((min(others, default=count), 1), (count - max(others, default=0), -1)):
        along = np.arange(apart, min(apart + _LEG, room - _APART // 2))
        if len(along) < _ARMS[1][0]:
            return corner
        points = edge[(corner.index + way * along) % count]
        slope, start = np.polyfit(along - along.mean(), points, 1)
        if np.abs(start + slope * (along - along.mean()) - points).max() > 2 * _LIES:
            return corner
        lines.append((complex(start), complex(slope / abs(slope))))
    (after, leaving), (before, back) = lines
    across = (leaving.conjugate() * back).imag
    at = after + leaving * (((before - after).conjugate() * back).imag / across)
    return Corner(corner.index, at, -back, leaving)


def _with_arms(edge: Places, arm: int, sharp: float) -> list[tuple[float, Corner]]:
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
        (np.abs(turn) > np.radians(sharp))
        & (poor < np.maximum(_LIES, 3 * np.median(off_after)))
        & (np.abs(at - edge) < _FARTHEST / half)
    )
    # Of neighbours that all look like the corner it is the one that it lies nearest to; a longer
    # curve tells more.
    poor = poor + 0.1 * np.abs(at - edge) * half + (0.0 if arm == _ARMS[0][0] else 0.05)
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
