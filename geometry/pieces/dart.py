"""Darts: on an edge with their mouth, and double-pointed inside a piece."""

from dataclasses import dataclass

from shapely import Polygon

from trueup.geometry.kept import kept
from trueup.geometry.lines.points import Point, turn_between, unit
from trueup.geometry.lines.polygons import polygon

_LEGS_ALIKE, _LEGS_ALIKE_SHARE = 2.0, 0.03
_WIDEST = 0.9


def are_legs(first: Point, tip: Point, second: Point, shortest: float) -> bool:
    """Return whether two straight lines are drawn as the legs of a dart are.

    They are as long as each other, to 2 mm or 3 %, neither is shorter than `shortest`, mm, and the
    mouth between them is narrower than they are long (common practice, no source).
    """
    legs = abs(tip - first), abs(second - tip)
    alike = abs(legs[0] - legs[1]) <= max(_LEGS_ALIKE, _LEGS_ALIKE_SHARE * legs[0])
    return alike and min(legs) >= shortest and abs(second - first) <= _WIDEST * min(legs)


@dataclass(frozen=True)
class Dart:
    """A dart that opens on an edge; its mouth is the gap between two parts of that edge.

    `apex` is the pivot, the point of the body it aims at. The tip it is sewn to may stop short of
    it, `setback` mm towards the mouth; the dart still closes and turns about its apex.
    `turned` says that it was brought here from elsewhere: what lies beyond is turned by its angle.
    """

    name: str
    apex: Point
    setback: float = 0.0
    turned: bool = False


@dataclass(frozen=True)
class InnerDart:
    """A double-pointed dart inside a piece: two tips, and the two mouth points between them."""

    name: str
    upper: Point
    lower: Point
    left: Point
    right: Point

    @property
    def intake(self) -> float:
        """Return the width taken in at its widest, mm."""
        return abs(self.right - self.left)

    @kept
    def diamond(self) -> Polygon:
        """Return the cloth that it takes out."""
        return polygon((self.upper, self.right, self.lower, self.left))


@dataclass(frozen=True)
class Mouth:
    """Where a dart opens on its edge: the two mouth points in ring order, and the apex."""

    dart: Dart
    first: Point
    second: Point

    @property
    def intake(self) -> float:
        """Return the straight distance between the mouth points, mm."""
        return abs(self.second - self.first)

    @property
    def angle(self) -> float:
        """Return the signed turn in radians about the apex that closes the dart."""
        return turn_between(self.second - self.dart.apex, self.first - self.dart.apex)

    @property
    def tip(self) -> Point:
        """Return the point the dart is sewn to, on its centre line."""
        centre = (self.first + self.second) / 2 - self.dart.apex
        if self.dart.setback == 0 or centre == 0:
            return self.dart.apex
        return self.dart.apex + unit(centre) * self.dart.setback

    @property
    def legs(self) -> tuple[float, float]:
        """Return the lengths of the two legs, from mouth to tip, mm."""
        return abs(self.first - self.tip), abs(self.second - self.tip)
