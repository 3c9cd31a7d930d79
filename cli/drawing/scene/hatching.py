"""A hatch as the lines it consists of, so that every reader of the picture draws the same."""

import cmath
import math
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from trueup.cli.drawing.scene.scene import Hatch
from trueup.geometry.lines.points import Point
from trueup.geometry.tolerance import SAME_POINT

Points = NDArray[np.complex128]

_DEGREES = {Hatch.RISING: -45.0, Hatch.FALLING: 45.0}


def hatch_lines(
    shape: BaseGeometry, hatch: Hatch, spacing: float, within: BaseGeometry | None = None
) -> tuple[tuple[Point, Point], ...]:
    """Return the lines, `spacing` mm apart, that hatch an area at 45°, as far as it is `within`.

    Lines lie on one grid of the page, so neighbouring areas are hatched as one.
    """
    if shape.is_empty:
        return ()
    turn = cmath.rect(1.0, math.radians(_DEGREES[hatch]))
    # Turned so that the hatch lies level, and measured in lines of it.
    level = turn.conjugate() / spacing
    areas = (shape,) if within is None else (shape, within)
    crossed = [_crossings(*(points * level for points in _sides(area))) for area in areas]
    lines = _inside_all(crossed) * spacing * turn
    lines = lines[np.abs(lines[:, 1] - lines[:, 0]) > SAME_POINT]
    return tuple((start, end) for start, end in lines.tolist())


def _inside_all(crossed: Sequence[Points]) -> Points:
    """Return the stretches of the level lines that are inside every area, by its crossings."""
    # A line that comes into an area goes out of it, so crossings come in pairs.
    if len(crossed) == 1:
        return crossed[0].reshape(-1, 2)
    every = np.concatenate(crossed)
    into = np.concatenate([np.tile([1, -1], points.size // 2) for points in crossed])
    order = np.lexsort((into, every.real, every.imag))
    inside = np.flatnonzero(np.cumsum(into[order]) == len(crossed))
    return np.stack([every[order[inside]], every[order[inside + 1]]], axis=1)


def _sides(shape: BaseGeometry) -> tuple[Points, Points]:
    """Return where each straight side of an area starts and where it ends."""
    corners, ring = shapely.get_coordinates(
        shapely.get_rings(shapely.get_parts(shape)), return_index=True
    )
    points = corners[:, 0] + 1j * corners[:, 1]
    goes_on = ring[:-1] == ring[1:]
    return points[:-1][goes_on], points[1:][goes_on]


def _crossings(starts: Points, ends: Points) -> Points:
    """Return where sides cross the level lines at whole numbers, line by line from the left.

    A side has its lower end and not its upper: two that meet on a line cross it once, twice, or
    never.
    """
    low, high = np.minimum(starts.imag, ends.imag), np.maximum(starts.imag, ends.imag)
    first = np.ceil(low)
    count = (np.ceil(high) - first).astype(np.intp)
    side = np.repeat(np.arange(count.size), count)
    rules = first[side] + np.arange(side.size) - np.repeat(np.cumsum(count) - count, count)
    start, end = starts[side], ends[side]
    share = (rules - start.imag) / (end.imag - start.imag)
    across = start.real + share * (end.real - start.real)
    order = np.lexsort((across, rules))
    return np.asarray(across + 1j * rules)[order]
