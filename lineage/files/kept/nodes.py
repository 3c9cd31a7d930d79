"""The nodes of a wardrobe that was read before: each is read again when it is asked for."""

from collections.abc import Callable, ItemsView, Iterable, Iterator, Mapping, ValuesView
from typing import cast

from trueup.lineage.files.kept.kin import Kin, kin_of
from trueup.lineage.files.records import NodeRecord

Read = Callable[[Iterable[str]], Mapping[str, NodeRecord]]
"""Reads the files of nodes, by their paths."""


_FEW = 32
"""So many nodes are read one by one: more than a lineage has, or a look shows of conflicts."""


class KeptNodes(Mapping[str, NodeRecord]):
    """Nodes by name, of which `kin` and their order are known without reading any.

    Those of `changed` stand in the place of what `read` gives. Whoever asks for all nodes, or for
    more than a few, has them read at one stroke.
    """

    def __init__(
        self,
        kin: Mapping[str, Kin],
        in_order: tuple[str, ...],
        read: Read,
        changed: Mapping[str, NodeRecord],
    ) -> None:
        self.kin, self.in_order = kin, in_order
        self._read, self._changed = read, changed
        self._asked = 0
        self._nodes: dict[str, NodeRecord | None] = {**dict.fromkeys(kin), **changed}

    def __getitem__(self, name: str) -> NodeRecord:
        """Return a node; raises Damaged where its file cannot be read any more."""
        found = self._nodes[name]
        if found is None:
            self._asked += 1
            if self._asked > _FEW:
                return self._all()[name]
            path = path_of(name, self.kin[name])
            found = self._nodes[name] = self._read([path])[path]
        return found

    def __iter__(self) -> Iterator[str]:
        return iter(self._nodes)

    def __len__(self) -> int:
        return len(self._nodes)

    def __contains__(self, name: object) -> bool:
        return name in self._nodes

    def items(self) -> ItemsView[str, NodeRecord]:
        """Return all nodes with their names."""
        return self._all().items()

    def values(self) -> ValuesView[NodeRecord]:
        """Return all nodes."""
        return self._all().values()

    def _all(self) -> dict[str, NodeRecord]:
        waiting = {n: path_of(n, self.kin[n]) for n, node in self._nodes.items() if node is None}
        if waiting:
            found = self._read(waiting.values())
            self._nodes |= {name: found[path] for name, path in waiting.items()}
        return cast("dict[str, NodeRecord]", self._nodes)

    is_graph = True  # they made one when they were read, and in `after` none follows others

    @property
    def source(self) -> object:
        """Return by what nodes are known that are the same but for those `changed`."""
        return self._read

    @property
    def changed(self) -> Mapping[str, NodeRecord]:
        """Return the nodes that may be others than those of the same source."""
        return self._changed

    def with_put(self, put: Mapping[str, NodeRecord]) -> Mapping[str, NodeRecord]:
        """Return the nodes with others put in their place, or added, by their names."""
        return self.after(put.values()) or {**dict(self.items()), **put}

    def after(self, changed: Iterable[NodeRecord]) -> "KeptNodes | None":
        """Return the nodes with others of the same names in their place.

        None where one of them was not there, or derives from others than it did.
        """
        nodes, kin = dict(self._changed), dict(self.kin)
        for node in changed:
            now, before = kin_of(node), kin.get(node.name)
            if before is None or (now.is_block, now.follows) != (before.is_block, before.follows):
                return None
            nodes[node.name], kin[node.name] = node, now
        found = KeptNodes(kin, self.in_order, self._read, nodes)
        read = {n: node for n, node in self._nodes.items() if node is not None and n not in nodes}
        found._nodes |= read
        return found


def path_of(name: str, kin: Kin) -> str:
    """Return the file of a node, as its record says."""
    return f"{'blocks' if kin.is_block else 'patterns'}/{name}.toml"
