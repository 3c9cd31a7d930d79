"""Where numbered marks stand, so that none covers another or the place it belongs to."""

import cmath
import math
from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from trueup.geometry.lines.points import Point

_DIRECTIONS = 16
_REACHES = (3.0, 4.5, 6.5, 9.0)  # distances to try, in radii of a mark


def places(
    targets: Sequence[Point],
    radius: float,
    lines: BaseGeometry,
    room: BaseGeometry | None = None,
) -> tuple[Point, ...]:
    """Return where the mark of each target stands.

    `lines` are what is drawn: a mark keeps clear of them where there is room, and of marks always.
    Within `room`, where that is given, it keeps as a whole if it can.
    """
    if room is not None:
        room = room.buffer(-radius)
        shapely.prepare(room)
    taken: list[Point] = []
    for target in targets:
        options = [
            target + cmath.rect(reach * radius, 2 * math.pi * k / _DIRECTIONS)
            for reach in _REACHES
            for k in range(_DIRECTIONS)
        ]
        clear = [at for at in options if _clear(at, taken, radius, targets)] or options
        there = shapely.points([(at.real, at.imag) for at in clear])
        if room is not None and (inside := shapely.covers(room, there)).any():
            there = there[inside]
        free = there[shapely.distance(there, lines) >= 1.3 * radius]
        first = (free if free.size else there)[0]
        taken.append(complex(first.x, first.y))
    return tuple(taken)


def _clear(at: Point, taken: Sequence[Point], radius: float, targets: Sequence[Point]) -> bool:
    return all(abs(at - other) > 2.3 * radius for other in taken) and all(
        abs(at - other) > 1.8 * radius for other in targets
    )
