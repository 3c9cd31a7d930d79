"""A rectangle of the area a pattern is laid out on, and lines cut off at its sides. In mm."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import LineString, Polygon, box

from geometry.points import Point


@dataclass(frozen=True)
class Window:
    """A rectangle, y down the page."""

    left: float
    top: float
    right: float
    bottom: float

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

    def shared(self, other: "Window") -> "Window":
        """Return what lies in both; of no width or height, or less, where there is nothing."""
        return Window(
            max(self.left, other.left),
            max(self.top, other.top),
            min(self.right, other.right),
            min(self.bottom, other.bottom),
        )

    def cut_off(self, points: Sequence[Point]) -> Iterator[tuple[Point, ...]]:
        """Yield the parts of a polyline that lie inside."""
        if self.holds(points):
            yield tuple(points)
            return
        if self._misses(points):
            return
        inside = LineString([(p.real, p.imag) for p in points]).intersection(self.polygon)
        for part in shapely.get_parts(inside):
            if isinstance(part, LineString) and part.length > 0:
                yield tuple(self._inside(x, y) for x, y in part.coords)

    def _misses(self, points: Sequence[Point]) -> bool:
        across, down = [p.real for p in points], [p.imag for p in points]
        return (
            max(across) < self.left
            or min(across) > self.right
            or max(down) < self.top
            or min(down) > self.bottom
        )

    def _inside(self, x: float, y: float) -> Point:
        """Return a point that rounding may have put a hair outside."""
        return complex(min(max(x, self.left), self.right), min(max(y, self.top), self.bottom))
