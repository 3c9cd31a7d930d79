"""Whether two pieces lie over each other: then the edge of the upper one goes on inside.

Where one outline leaves another it turns inwards, and one of the two lines that meet there is the
edge of the upper piece, which goes on over the lower: seen as a step of colour, or as the thin line
of its cut and shadow. Nothing goes on so from an inward corner of a single piece.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from trueup.lineage.drawings.photographs.outlines.turning import Corner
from trueup.lineage.drawings.photographs.picture import Picture
from trueup.lineage.drawings.photographs.view import TableView

_INWARDS = np.radians(25.0)
"""Outlines cross at more than this; by less an edge is uneven, or was meant to turn."""

_FROM, _TO, _STEP = 3.0, 22.0, 0.5
"""The line is looked for from there to there beyond the corner, mm."""

_ASIDE = 5.0
_STRAYS = (0.6, 0.05)
"""It may lie beside the way straight on by so much, and by so much more with each mm."""

_STEP_ASIDE = 2.0
_STANDS_OUT = 5.0
"""A line stands out so many times as much as the piece varies of itself."""

_LEAST = 0.02
"""... and by this share of its light."""

_MOSTLY = 0.75
"""It is there along so much of the way."""


def overlap_at(corners: Sequence[Corner], picture: Picture, view: TableView) -> complex | None:
    """Return a corner of a clockwise outline, mm, at which two pieces part; None if at none."""
    for corner in corners:
        if np.angle(corner.leaving / corner.arriving) > -_INWARDS:
            continue
        for way in (corner.arriving, -corner.leaving):
            if _goes_on(corner.at, way, picture, view):
                return corner.at
    return None


def _goes_on(start: complex, way: complex, picture: Picture, view: TableView) -> bool:
    along = np.arange(_FROM, _TO, _STEP)
    aside = np.arange(-_ASIDE, _ASIDE + 0.01, 0.2)
    places = start + way * (along[:, None] + 1j * aside)
    light = picture.light(view.seen(places)).mean(axis=-1)
    usual = np.median(light, axis=1, keepdims=True)
    off = light - usual
    # From row to row, for a step of colour is no noise.
    varies = 1.4826 / 2**0.5 * float(np.median(np.abs(np.diff(light, axis=0))))
    noise = max(varies, _LEAST / _STANDS_OUT * float(usual.mean()))
    near = np.abs(aside) <= (_STRAYS[0] + _STRAYS[1] * along)[:, None]
    line = np.where(near, np.abs(off), 0.0).max(axis=1)
    # What varies everywhere, as a print does, is no line.
    elsewhere = np.where(near, 0.0, np.abs(off)).max(axis=1)
    step = np.abs(_mean(light, aside < -_STEP_ASIDE) - _mean(light, aside > _STEP_ASIDE))
    stands = (line > _STANDS_OUT * noise) & (line > 1.5 * elsewhere)
    return bool((stands | (step > 2 * _LEAST * usual[:, 0] + 3 * noise)).mean() > _MOSTLY)


def _mean(light: NDArray[np.float32], there: NDArray[np.bool_]) -> NDArray[np.float64]:
    return np.asarray(light[:, there].mean(axis=1), dtype=np.float64)
