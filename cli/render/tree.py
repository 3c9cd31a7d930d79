"""The graph of a wardrobe on the page: each node under its first parent."""

from collections import defaultdict
from collections.abc import Iterator

from rich.console import RenderableType

from trueup.cli.page import said
from trueup.cli.terminal.fitted import Hanging
from trueup.lineage.files.records import NodeRecord, Role
from trueup.lineage.files.state import State


def tree_lines(state: State) -> Iterator[RenderableType]:
    """Yield a line for each node, indented below its first parent; others are named beside it."""
    if not state.nodes:
        empty = "The wardrobe is empty; draft a block."
        yield said("No block or pattern can be read." if state.lost_nodes else empty)
        return
    children = defaultdict[str, list[str]](list)
    for name in state.in_order:
        parents = state.nodes[name].parents
        children[parents[0].name if parents else ""].append(name)
    yield from _below("", "", children, state)


def _below(
    parent: str, indent: str, children: dict[str, list[str]], state: State
) -> Iterator[RenderableType]:
    names = children[parent]
    for name in names:
        is_last = name == names[-1]
        branch = "" if not parent else ("`- " if is_last else "|- ")
        further = indent + ("" if not parent else ("   " if is_last else "|  "))
        below = "|  " if children.get(name) else "   "
        words = said(f"{name}{node_words(state.nodes[name])}")
        yield Hanging(indent + branch, further + below, words, is_guide=True)
        yield from _below(name, further, children, state)


def node_words(node: NodeRecord) -> str:
    """Return what to say beside the name of a node: what it is, takes, and has open."""
    words = ["block"] if node.is_block else []
    first, *others = node.parents or (None,)
    if first is not None and first.pieces is not None:
        words.append(f"takes {', '.join(first.pieces)}")
    for other in others:
        if other is not None:
            pieces = ", ".join(other.pieces) if other.pieces else "all"
            words.append(f"{pieces} from {other.name}")
    if node.style is not None:
        what = "style" if node.style.takes is Role.STYLE else "corrections"
        words.append(f"{what} of {node.style.name}")
    words += [
        f"stays on {parent.hold[:10]} of {parent.name}" for parent in node.followed if parent.hold
    ]
    if node.open_conflicts:
        count = len(node.open_conflicts)
        words.append(f"! {count} open conflict{'' if count == 1 else 's'}")
    return f"  ({'; '.join(words)})" if words else ""
