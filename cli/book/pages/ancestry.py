"""The way back up from a pattern: who it derives from, block first, one line a parent."""

from collections.abc import Iterator
from dataclasses import dataclass

from trueup.lineage.files.records import NodeRecord, ParentRecord
from trueup.lineage.files.state import State
from trueup.lineage.limits import DEEPEST_LINEAGE


@dataclass(frozen=True)
class Trail:
    """One line of ancestors, the block first and the parent last; `words` say what it takes."""

    names: tuple[str, ...]
    words: str


def trails(state: State, node: NodeRecord) -> tuple[Trail, ...]:
    """Return the lines of ancestors of a node; none of a block that derives from nothing."""
    found = [Trail(tuple(_up(state, each.name))[::-1], _taken(each)) for each in node.parents]
    if node.style:
        words = f"its {node.style.takes.value}"
        found.append(Trail(tuple(_up(state, node.style.name))[::-1], words))
    return tuple(found)


def _up(state: State, name: str) -> Iterator[str]:
    """Yield a node and its first parent, and that one's, up to the block."""
    for _ in range(DEEPEST_LINEAGE + 1):
        yield name
        parents = state.nodes[name].parents if name in state.nodes else ()
        if not parents:
            return
        name = parents[0].name


def _taken(parent: ParentRecord) -> str:
    words = [f"its {', '.join(parent.pieces)}"] if parent.pieces else []
    words += [f"as of its version {parent.hold[:10]}, on which this stays"] if parent.hold else []
    return "; ".join(words)
