"""Whether a point lies at one of many, found without asking each of them."""

from collections.abc import Iterable

from trueup.geometry.lines.points import Point


class Near:
    """Points, and whether another lies within so many mm of any of them."""

    def __init__(self, points: Iterable[Point], within: float) -> None:
        self._within = within
        self._cells: dict[tuple[int, int], list[Point]] = {}
        for point in points:
            self._cells.setdefault(self._cell(point), []).append(point)

    def has(self, point: Point) -> bool:
        """Return whether one of the points lies there."""
        across, down = self._cell(point)
        return any(
            abs(point - other) <= self._within
            for x in (across - 1, across, across + 1)
            for y in (down - 1, down, down + 1)
            for other in self._cells.get((x, y), ())
        )

    def _cell(self, point: Point) -> tuple[int, int]:
        return round(point.real / self._within / 2), round(point.imag / self._within / 2)
