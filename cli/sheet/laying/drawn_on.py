"""On which sheets lines are drawn. Lengths in mm."""

from collections.abc import Iterable, Sequence
from itertools import chain

import numpy as np
from numpy.typing import NDArray

from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.sheet.ink.drawn import Stroke
from trueup.cli.sheet.laying.tiles import Tile
from trueup.geometry.tolerance import SAME_POINT

Points = NDArray[np.complex128]


def drawn_on(tiles: Iterable[Tile], lines: Sequence[Stroke]) -> tuple[Tile, ...]:
    """Return the sheets that show some of the lines: those that one is cut off to at their sides.

    Almost always a corner of a line within a sheet tells, or that no stretch of one comes near it.
    """
    if not lines:
        return ()
    points = np.fromiter(chain.from_iterable(line.points for line in lines), complex)
    goes_on = np.ones(len(points), bool)
    goes_on[np.cumsum([len(line.points) for line in lines]) - 1] = False
    (there,) = np.nonzero(goes_on)
    starts, ends = points[there], points[there + 1]
    return tuple(tile for tile in tiles if _shows(tile.window, lines, points, starts, ends))


def _shows(
    window: Rectangle, lines: Sequence[Stroke], points: Points, starts: Points, ends: Points
) -> bool:
    if _overlap(points, points, window, -SAME_POINT).any():
        return True
    if not _overlap(starts, ends, window, SAME_POINT).any():
        return False
    return any(any(window.cut_off(line.points)) for line in lines)


def _overlap(starts: Points, ends: Points, window: Rectangle, by: float) -> NDArray[np.bool_]:
    """Return for stretches whether the rectangles around them meet a window, wider by so much."""
    return np.asarray(
        (np.maximum(starts.real, ends.real) >= window.left - by)
        & (np.minimum(starts.real, ends.real) <= window.right + by)
        & (np.maximum(starts.imag, ends.imag) >= window.top - by)
        & (np.minimum(starts.imag, ends.imag) <= window.bottom + by)
    )
