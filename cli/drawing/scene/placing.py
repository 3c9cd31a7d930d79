"""Where numbered marks stand, so that none covers another or the place it belongs to."""

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import compress

import shapely
from shapely.geometry.base import BaseGeometry

from trueup.geometry.lines.points import Point, coordinates

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
    if not targets:
        return ()
    if room is not None:
        room = room.buffer(-radius)
        shapely.prepare(room)
    taken: list[Point] = []
    for target in targets:
        taken.append(_Standing(radius, targets, tuple(taken), lines, room).nearest(target))
    return tuple(taken)


@dataclass(frozen=True)
class _Standing:
    """What a mark should stand clear of, and the room in which its middle should lie."""

    radius: float
    targets: Sequence[Point]
    taken: Sequence[Point]
    lines: BaseGeometry
    room: BaseGeometry | None

    def nearest(self, target: Point) -> Point:
        """Return the first place about a target that serves, else the one that serves best.

        Mostly one of the nearest does, and the others need not be looked at.
        """
        for reach in _REACHES:
            if found := self._off_lines(self._inside(self._clear(self._ring(target, reach)))):
                return found[0]
        options = [at for reach in _REACHES for at in self._ring(target, reach)]
        for keep in (self._clear, self._inside, self._off_lines):
            options = keep(options) or options
        return options[0]

    def _ring(self, target: Point, reach: float) -> list[Point]:
        return [
            target + cmath.rect(reach * self.radius, 2 * math.pi * k / _DIRECTIONS)
            for k in range(_DIRECTIONS)
        ]

    def _clear(self, places: Sequence[Point]) -> list[Point]:
        """Return those where a mark covers no other and no target."""
        return [at for at in places if self._is_clear(at)]

    def _is_clear(self, at: Point) -> bool:
        return all(abs(at - other) > 2.3 * self.radius for other in self.taken) and all(
            abs(at - other) > 1.8 * self.radius for other in self.targets
        )

    def _inside(self, places: list[Point]) -> list[Point]:
        if self.room is None or not places:
            return places
        points = shapely.points(coordinates(places))
        return list(compress(places, shapely.covers(self.room, points)))

    def _off_lines(self, places: list[Point]) -> list[Point]:
        if not places:
            return places
        apart = shapely.distance(shapely.points(coordinates(places)), self.lines)
        return list(compress(places, apart >= 1.3 * self.radius))
