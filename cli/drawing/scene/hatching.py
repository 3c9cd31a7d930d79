"""A hatch as the lines it consists of, so that every reader of the picture draws the same."""

import cmath
import math

import shapely
from shapely.affinity import rotate
from shapely.geometry import MultiLineString
from shapely.geometry.base import BaseGeometry

from trueup.cli.drawing.scene.scene import Hatch
from trueup.geometry.lines.points import Point

_DEGREES = {Hatch.RISING: -45.0, Hatch.FALLING: 45.0}


def hatch_lines(
    shape: BaseGeometry, hatch: Hatch, spacing: float
) -> tuple[tuple[Point, Point], ...]:
    """Return the lines, `spacing` mm apart, that hatch an area at 45°.

    Lines lie on one grid of the page, so neighbouring areas are hatched as one.
    """
    if shape.is_empty:
        return ()
    degrees = _DEGREES[hatch]
    # Turned so that the hatch lies level, ruled, and turned back.
    left, top, right, bottom = rotate(shape, -degrees, origin=(0, 0)).bounds
    first, last = math.ceil(top / spacing), math.floor(bottom / spacing)
    turn = cmath.rect(1.0, math.radians(degrees))
    rules = [
        [_xy(complex(x, k * spacing) * turn) for x in (left - 1, right + 1)]
        for k in range(first, last + 1)
    ]
    cut = shapely.intersection(MultiLineString(rules), shape)
    lines = [
        part
        for part in shapely.get_parts(cut)
        if part.geom_type == "LineString" and not part.is_empty
    ]
    return tuple((complex(*line.coords[0]), complex(*line.coords[-1])) for line in lines)


def _xy(point: Point) -> tuple[float, float]:
    return point.real, point.imag
