"""Where numbered marks stand, so that none covers another or the place it belongs to."""

import cmath
import math
from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from geometry.points import Point

_DIRECTIONS = 16
_REACHES = (3.0, 4.5, 6.5, 9.0)  # distances to try, in radii of a mark


def places(targets: Sequence[Point], radius: float, lines: BaseGeometry) -> tuple[Point, ...]:
    """Return where the mark of each target stands.

    `lines` are what is drawn: a mark keeps clear of them where there is room, and of marks always.
    """
    shapely.prepare(lines)
    taken: list[Point] = []
    for target in targets:
        options = [
            target + cmath.rect(reach * radius, 2 * math.pi * k / _DIRECTIONS)
            for reach in _REACHES
            for k in range(_DIRECTIONS)
        ]
        clear = [at for at in options if _clear(at, taken, radius, targets)] or options
        free = [at for at in clear if not _touches(at, radius, lines)] or clear
        taken.append(free[0])
    return tuple(taken)


def _clear(at: Point, taken: Sequence[Point], radius: float, targets: Sequence[Point]) -> bool:
    return all(abs(at - other) > 2.3 * radius for other in taken) and all(
        abs(at - other) > 1.8 * radius for other in targets
    )


def _touches(at: Point, radius: float, lines: BaseGeometry) -> bool:
    return bool(shapely.distance(shapely.Point(at.real, at.imag), lines) < 1.3 * radius)
