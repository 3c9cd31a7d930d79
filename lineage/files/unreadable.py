"""What of a wardrobe cannot be read, and what stands without it. Pure; from literals to values.

One broken file hides no other: the nodes that can be read, and derive from nodes that can, make
the graph. Every other is told of by the path of its file, with the error that says why.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from pathlib import PurePosixPath

from msgspec import Struct

from trueup.lineage.errors import BadRecord, Cycle, Damaged, MissingParent, StandsOnUnreadable
from trueup.lineage.files.graph import nearest, rings
from trueup.lineage.files.reading import is_name
from trueup.lineage.files.records import NodeRecord
from trueup.lineage.limits import DEEPEST_LINEAGE

NODES = ("blocks", "patterns")
"""The folders of nodes."""

_MOST_LIKE = 20  # so many parents that are not there are told with the names most like theirs


class Sifted(Struct, frozen=True):
    """The nodes that stand, by name, and why others do not, by the path of their file."""

    nodes: Mapping[str, NodeRecord]
    unreadable: Mapping[str, Damaged]


def name_of(path: str) -> str:
    """Return the name of the node or garment that a file holds, which is that of the file.

    >>> name_of("patterns/blouse.toml")
    'blouse'
    """
    return PurePosixPath(path).stem


def is_of_node(path: str) -> bool:
    """Return whether a file that cannot be read would hold a node."""
    return PurePosixPath(path).parts[0] in NODES


def sift(found: Iterable[NodeRecord], unreadable: Mapping[str, Damaged]) -> Sifted:
    """Return which of the nodes that were found stand, `unreadable` being files that hold others.

    Left out are nodes of one name, those with a parent that is not there, those that derive from
    each other in a ring, those too far below their block, and all that derive from any of them.
    """
    lost = dict(unreadable)
    nodes = _of_one_name(found, lost)
    children: dict[str, list[str]] = defaultdict(list)
    for node in nodes.values():
        for parent in node.followed:
            children[parent.name].append(node.name)
    depth = _standing(nodes, children)
    for name in [name for name, deep in depth.items() if deep > DEEPEST_LINEAGE]:
        del depth[name]
        lost[nodes[name].path] = BadRecord(
            nodes[name].path,
            f"it stands more than {DEEPEST_LINEAGE} patterns below its block",
            "parents",
        )
    left_out = {name: node for name, node in nodes.items() if name not in depth}
    _note_missing_parents(left_out, nodes, lost)
    _note_rings(left_out, lost)
    _note_what_derives_from(children, left_out, lost)
    return Sifted({name: node for name, node in nodes.items() if name in depth}, lost)


def _of_one_name(found: Iterable[NodeRecord], lost: dict[str, Damaged]) -> dict[str, NodeRecord]:
    """Return the nodes by name; where two have one name, nobody can tell which is meant."""
    by_name: dict[str, list[NodeRecord]] = defaultdict(list)
    for node in found:
        by_name[node.name].append(node)
    for name, namesakes in by_name.items():
        for node, twin in zip(namesakes, reversed(namesakes), strict=True):
            if node is not twin:
                lost[node.path] = BadRecord(
                    node.path, f'the name "{name}" is also in {twin.path}', "", "name"
                )
    return {name: nodes[0] for name, nodes in by_name.items() if len(nodes) == 1}


def _standing(nodes: Mapping[str, NodeRecord], children: Mapping[str, list[str]]) -> dict[str, int]:
    """Return the nodes all of whose parents stand, with how many generations are above them."""
    waits_for = {name: len(node.followed) for name, node in nodes.items()}
    depth = {name: 0 for name, parents in waits_for.items() if not parents}
    waiting = list(depth)
    for name in waiting:  # grows while it is gone through
        if depth[name] > DEEPEST_LINEAGE:
            continue
        for child in children.get(name, ()):
            waits_for[child] -= 1
            if not waits_for[child]:
                depth[child] = 1 + max(depth[parent.name] for parent in nodes[child].followed)
                waiting.append(child)
    return depth


def _note_missing_parents(
    left_out: Mapping[str, NodeRecord],
    nodes: Mapping[str, NodeRecord],
    lost: dict[str, Damaged],
) -> None:
    known = {*nodes, *(name_of(path) for path in lost if is_of_node(path))}
    like: dict[str, tuple[str, ...]] = {}
    for node in left_out.values():
        missing = next((p.name for p in node.followed if p.name not in known), None)
        if missing is not None and node.path not in lost:
            # Looking for names that are like it takes its time.
            if missing not in like and is_name(missing) and len(like) < _MOST_LIKE:
                like[missing] = nearest(missing, nodes)
            lost[node.path] = MissingParent(node.path, missing, like.get(missing, ()))


def _note_rings(left_out: Mapping[str, NodeRecord], lost: dict[str, Damaged]) -> None:
    parents = {
        name: [parent.name for parent in node.followed if parent.name in left_out]
        for name, node in left_out.items()
    }
    for group in rings(parents) if left_out else ():
        ring = _ring(group, left_out)
        for name in group:
            lost.setdefault(left_out[name].path, Cycle(left_out[name].path, ring))


def _ring(group: Collection[str], nodes: Mapping[str, NodeRecord]) -> tuple[str, ...]:
    """Return nodes of a group that derive from each other in a ring, each before its child."""
    met: dict[str, int] = {}
    name = min(group)
    while name not in met:
        met[name] = len(met)
        name = next(parent.name for parent in nodes[name].followed if parent.name in group)
    return tuple(reversed(list(met)[met[name] :]))


def _note_what_derives_from(
    children: Mapping[str, list[str]],
    left_out: Mapping[str, NodeRecord],
    lost: dict[str, Damaged],
) -> None:
    waiting = [(name_of(path), error) for path, error in lost.items() if is_of_node(path)]
    for name, error in waiting:  # grows while it is gone through
        for child in children.get(name, ()):
            if child in left_out and left_out[child].path not in lost:
                path = left_out[child].path
                lost[path] = StandsOnUnreadable(path, f"it derives from {name}", error)
                waiting.append((child, error))


def causes(unreadable: Mapping[str, Damaged]) -> tuple[Damaged, ...]:
    """Return the errors that are no consequence of others, in the order of what they are of."""
    found = (error for _, error in sorted(unreadable.items()))
    return tuple(error for error in found if not isinstance(error, StandsOnUnreadable))
