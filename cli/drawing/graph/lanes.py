"""Lanes for the lines of a graph that pass between its columns and rows. Pure.

A node hangs on one parent; from every other a line leaves beside that parent's column, runs above
the row of the node and comes down to it. Lines of two parents never share a lane where both run:
they would be read as one.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from trueup.cli.drawing.graph.rows import Order

_Stretch = tuple[float, float]


@dataclass(frozen=True)
class GraphLanes:
    """Which lane each line has, counted from 0.

    `leaving` is by the parent it leaves, beside its column; `above` by the row it runs above, and
    the parent it comes from.
    """

    leaving: Mapping[str, int]
    above: Mapping[tuple[int, str], int]

    def beside(self, column: int, order: Order) -> int:
        """Return how many lanes there are beside a column."""
        return _many(lane for name, lane in self.leaving.items() if order.columns[name] == column)

    def over(self, row: int) -> int:
        """Return how many lanes there are above a row."""
        return _many(lane for (at, _), lane in self.above.items() if at == row)


def lanes_of(passing: Iterable[tuple[str, str]], order: Order) -> GraphLanes:
    """Return the lanes of lines that pass others by, each from a parent to a child."""
    down: dict[int, dict[str, _Stretch]] = {}
    across: dict[int, dict[str, _Stretch]] = {}
    for parent, child in passing:
        leaves, arrives = order.columns[parent] + 0.5, order.columns[child] - 0.5
        start, over = order.rows[parent] + 0.5, float(order.rows[child])
        _widen(down.setdefault(order.columns[parent], {}), parent, start, over)
        _widen(across.setdefault(order.rows[child], {}), parent, leaves, arrives)
    leaving = {parent: lane for taken in down.values() for parent, lane in _shared(taken).items()}
    above = {
        (row, parent): lane
        for row, taken in across.items()
        for parent, lane in _shared(taken).items()
    }
    return GraphLanes(leaving, above)


def _widen(taken: dict[str, _Stretch], parent: str, start: float, end: float) -> None:
    low, high = taken.get(parent, (start, start))
    taken[parent] = (min(low, start, end), max(high, start, end))


def _shared(taken: Mapping[str, _Stretch]) -> dict[str, int]:
    """Return a lane for each stretch; two that touch each other have two."""
    ends: list[float] = []
    found: dict[str, int] = {}
    for name, (start, end) in sorted(taken.items(), key=lambda each: (each[1], each[0])):
        free = next((lane for lane, until in enumerate(ends) if until < start), len(ends))
        ends[free:] = [end, *ends[free + 1 :]]
        found[name] = free
    return found


def _many(lanes: Iterable[int]) -> int:
    return max((lane + 1 for lane in lanes), default=0)
