"""Hatch a place with parallel lines, so that it shows in black and white. Lengths in mm."""

import math
from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry import LineString

from trueup.cli.sheet.ink.drawn import InkPen, Stroke

SPACING = 2.5


def hatched(place: shapely.Geometry, pen: InkPen) -> Iterator[Stroke]:
    """Yield lines at half a right angle across a place, upwards to the right.

    They lie on one grid for the whole area, so that they meet from sheet to sheet.
    """
    if place.is_empty:
        return
    left, top, right, bottom = place.bounds
    step = SPACING * math.sqrt(2)
    first, last = math.ceil((left + top) / step), math.floor((right + bottom) / step)
    for n in range(first, last + 1):
        total = n * step
        line = LineString([(left, total - left), (right, total - right)])
        for part in shapely.get_parts(line.intersection(place)):
            if isinstance(part, LineString) and part.length > 0:
                yield Stroke(tuple(complex(x, y) for x, y in np.asarray(part.coords)), pen)
