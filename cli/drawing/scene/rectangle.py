"""A rectangle on a page, and lines cut off at its sides. Lengths in mm."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import LineString, Polygon, box

from trueup.geometry.lines.points import Point
from trueup.geometry.tolerance import SAME_POINT


@dataclass(frozen=True)
class Rectangle:
    """A rectangle, y down the page."""

    left: float
    top: float
    right: float
    bottom: float

    @classmethod
    def around(cls, points: Iterable[Point]) -> "Rectangle":
        """Return the rectangle around points, of which there is at least one."""
        found = tuple(points)
        across, down = [p.real for p in found], [p.imag for p in found]
        return cls(min(across), min(down), max(across), max(down))

    @property
    def width(self) -> float:
        """Return how wide it is."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Return how high it is."""
        return self.bottom - self.top

    @property
    def polygon(self) -> Polygon:
        """Return the rectangle as a polygon."""
        return box(self.left, self.top, self.right, self.bottom)

    def holds(self, points: Sequence[Point]) -> bool:
        """Return whether all points lie in it, its sides included."""
        return all(
            self.left <= p.real <= self.right and self.top <= p.imag <= self.bottom for p in points
        )

    def joined(self, other: "Rectangle") -> "Rectangle":
        """Return the rectangle around this one and another."""
        return Rectangle(
            min(self.left, other.left),
            min(self.top, other.top),
            max(self.right, other.right),
            max(self.bottom, other.bottom),
        )

    def shared(self, other: "Rectangle") -> "Rectangle":
        """Return what lies in both; of no width or height, or less, where there is nothing."""
        return Rectangle(
            max(self.left, other.left),
            max(self.top, other.top),
            min(self.right, other.right),
            min(self.bottom, other.bottom),
        )

    def cut_off(self, points: Sequence[Point]) -> Iterator[tuple[Point, ...]]:
        """Yield the parts of a polyline that lie inside, its sides and a hair beyond included.

        What lies along a side must not be lost because rounding put it outside.
        """
        around = Rectangle.around(points)
        if self._misses(around, SAME_POINT):
            return
        if self.holds((complex(around.left, around.top), complex(around.right, around.bottom))):
            yield tuple(points)
            return
        points = [self._brought_in(point) for point in points]
        if self.holds(points):
            yield tuple(points)
            return
        if self._misses(Rectangle.around(points)):
            return
        inside = LineString([(p.real, p.imag) for p in points]).intersection(self.polygon)
        for part in shapely.get_parts(inside):
            if isinstance(part, LineString) and part.length > 0:
                yield tuple(self._inside(x, y) for x, y in part.coords)

    def _misses(self, other: "Rectangle", by: float = 0.0) -> bool:
        """Return whether another lies beside this one, more than so much apart."""
        return (
            other.right < self.left - by
            or other.left > self.right + by
            or other.bottom < self.top - by
            or other.top > self.bottom + by
        )

    def _brought_in(self, point: Point) -> Point:
        """Return a point, or the nearest inside where it lies no more than a hair outside."""
        inside = self._inside(point.real, point.imag)
        return inside if abs(inside - point) < SAME_POINT else point

    def _inside(self, x: float, y: float) -> Point:
        """Return a point that rounding may have put a hair outside."""
        return complex(min(max(x, self.left), self.right), min(max(y, self.top), self.bottom))
