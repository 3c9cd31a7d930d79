"""Where exactly the edge of a piece runs: half way from its light to that of the table. In mm."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from trueup.geometry.said import said
from trueup.lineage.drawings.photographs.outlines.pieces import Rough, Snip
from trueup.lineage.drawings.photographs.picture import Picture
from trueup.lineage.drawings.photographs.unclear import Unclear
from trueup.lineage.drawings.photographs.view import Places, TableView

STEP = 1.0
"""From one point of an edge to the next."""

_REACH = 3.0
"""The edge is looked for so far to either side of where it seems to be."""

_SAMPLES = 61
_CLEAR = 1.2
"""Beyond this from it the light is that of the piece, or of the table, alone."""

_ALIKE = 60
"""Light of piece and table is told over so many points to either side, for it changes slowly."""

_SOFTENED = 2.0
"""The direction of the edge is told over about so many points."""

_LEAST = 0.02
"""Light of piece and table differ by so much at the least, of all there can be."""

_SPIKE = (4, 14)
"""A spike is no wider than so many points to either side; those up to so far tell the line."""

_RUNS_ON = 0.2
"""A line runs on that lies so near to the points on both sides, mm."""

_STANDS_OUT = 0.4
"""A spike stands out from it by more than this, mm."""

_LOST = 15.0
"""So much of an edge may not be found in one place."""


def edge_of(rough: Rough, picture: Picture, view: TableView) -> Places:
    """Return points along the edge of a piece, closed, STEP apart; it runs on over its notches.

    Raises Unclear where the edge cannot be told from the table.
    """
    places = rough.outline
    for _ in range(2):
        places = _found(evenly(places, STEP), rough.notches, picture, view)
    for _ in range(2):
        places = _without_spikes(evenly(places, STEP))
    return evenly(places, STEP)


def evenly(places: Places, step: float) -> Places:
    """Return points along a closed line, as far from each other along it as near to `step`."""
    closed = np.append(places, places[0])
    along = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(closed)))])
    count = max(round(along[-1] / step), 8)
    at = np.linspace(0.0, along[-1], count, endpoint=False)
    across, down = (np.interp(at, along, part) for part in (closed.real, closed.imag))
    return np.asarray(across + 1j * down)


def _found(places: Places, notches: Sequence[Snip], picture: Picture, view: TableView) -> Places:
    soft = softened(places, _SOFTENED)
    way = np.roll(soft, -1) - np.roll(soft, 1)
    out = -1j * way / np.maximum(np.abs(way), 1e-9)
    steps = np.linspace(-_REACH, _REACH, _SAMPLES)
    light = picture.light(view.seen(soft[:, None] + out[:, None] * steps))
    inside = _slowly(np.median(light[:, steps < -_CLEAR], axis=1))
    outside = _slowly(np.median(light[:, steps > _CLEAR], axis=1))
    apart = inside - outside
    contrast = (apart**2).sum(axis=1)
    share = ((light - outside[:, None]) * apart[:, None]).sum(axis=2) / np.maximum(contrast, 1e-9)[
        :, None
    ]
    share = (np.roll(share, 1, axis=1) + 2 * share + np.roll(share, -1, axis=1)) / 4
    at = _half_way(share, steps)
    clear = np.isfinite(at) & (contrast > _LEAST**2)
    _require_whole(clear, soft)
    for notch in notches:
        clear &= np.abs(soft - notch.at) > notch.reach
    return np.asarray((soft + out * np.where(clear, at, 0.0))[clear])


def _without_spikes(places: Places) -> Places:
    """Return points of a closed line, less those that a smooth line through what lies farther off
    on both sides leaves: a slit, a thread or a line of the table, but no corner, does that."""
    near, far = _SPIKE
    along = np.concatenate([np.arange(-far, -near + 1), np.arange(near, far + 1)])
    if len(places) < 4 * far:
        return places
    terms = np.stack([np.ones(len(along)), along, along**2.0], axis=1)
    points = np.stack([np.roll(places, -int(k)) for k in along], axis=1)
    shares = points @ np.linalg.pinv(terms).T
    off = np.sqrt((np.abs(points - shares @ terms.T) ** 2).mean(axis=1))
    spike = (off < _RUNS_ON) & (np.abs(shares[:, 0] - places) > _STANDS_OUT)
    return np.asarray(places[~spike])


def _half_way(share: NDArray[np.float32], steps: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return where the light falls through the half, nearest to the middle; NaN for nowhere."""
    # The outermost samples are mixed with those of the other end.
    inner, outer = share[:, 1:-2] - 0.5, share[:, 2:-1] - 0.5
    falls = (inner >= 0) & (outer < 0)
    along = inner / np.where(falls, inner - outer, 1.0)
    at = steps[1:-2] + along * (steps[1] - steps[0])
    away = np.where(falls, np.abs(at), np.inf)
    nearest = away.argmin(axis=1)
    rows = np.arange(len(share))
    return np.where(np.isfinite(away[rows, nearest]), at[rows, nearest], np.nan)


def _require_whole(clear: NDArray[np.bool_], places: Places) -> None:
    """Raise Unclear where too many points in a row are not found."""
    if clear.all():
        return
    if not clear.any():
        place, longest = places[0], np.inf
    else:
        first = int(clear.argmax())
        turned, moved = np.roll(clear, -first), np.roll(places, -first)
        kept = np.flatnonzero(turned)
        gaps = np.diff(np.append(kept, len(turned)))
        longest = float(gaps.max()) * STEP
        place = moved[(kept[gaps.argmax()] + int(gaps.max()) // 2) % len(moved)]
    if longest > _LOST:
        raise Unclear(
            said("edge-lost"),
            "lay the pattern on a table of another colour, in even light",
            at=complex(place),
        )


def softened(places: Places, points: float) -> Places:
    """Return points of a closed line, each the mean of its neighbours, so many of them."""
    turns = np.fft.fftfreq(len(places)) * 2 * np.pi
    return np.asarray(np.fft.ifft(np.fft.fft(places) * np.exp(-((turns * points) ** 2) / 2)))


def _slowly(light: NDArray[np.float32]) -> NDArray[np.float32]:
    """Return what light is usual around each point of a closed line."""
    reach = min(_ALIKE, (len(light) - 1) // 2)
    every = max(reach // 12, 1)
    shifts = range(-reach, reach + 1, every)
    return np.asarray(np.median([np.roll(light, k, axis=0) for k in shifts], axis=0))
