"""The order of a graph: in which column and row every node stands, and on whom it hangs. Pure.

Generations stand in columns, so that a wide family makes a long picture and not a wide one; every
node has a row, a parent that of its first child. A node hangs on the youngest of its parents.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from trueup.lineage.files.state import State


@dataclass(frozen=True)
class Order:
    """The column and the row of each node, counted from 0, and on which parent it hangs."""

    columns: Mapping[str, int]
    rows: Mapping[str, int]
    hangs_on: Mapping[str, str | None]

    @property
    def as_read(self) -> tuple[str, ...]:
        """Return the nodes as they are read: row by row, each from left to right."""
        return tuple(sorted(self.rows, key=lambda name: (self.rows[name], self.columns[name])))


def order_of(state: State) -> Order:
    """Return the order of the nodes of a state; a parent that is not in it is passed over."""
    depth, hangs_on = dict[str, int](), dict[str, str | None]()
    for name in state.in_order:
        parents = [p.name for p in state.nodes[name].parents if p.name in depth]
        hangs_on[name] = max(parents, key=depth.__getitem__, default=None)
        depth[name] = max((depth[parent] + 1 for parent in parents), default=0)
    return Order(depth, _rows(state, hangs_on), hangs_on)


def _rows(state: State, hangs_on: Mapping[str, str | None]) -> dict[str, int]:
    """Return the row of each node: its own where nothing hangs on it, else that of its first."""
    below: dict[str | None, list[str]] = {}
    for name in state.in_order:
        below.setdefault(hangs_on[name], []).append(name)
    rows, row = dict[str, int](), 0
    waiting = list(reversed(below.get(None, [])))
    while waiting:
        name = waiting.pop()
        rows[name] = row
        if name in below:
            waiting += reversed(below[name])
        else:
            row += 1
    return rows
