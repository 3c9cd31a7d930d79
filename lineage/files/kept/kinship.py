"""Who follows whom among nodes, whether they were read or are only known of."""

from collections.abc import Mapping
from functools import cached_property
from typing import Protocol

from trueup.lineage.files import graph
from trueup.lineage.files.kept.kin import Kin, kin_of
from trueup.lineage.files.kept.nodes import KeptNodes
from trueup.lineage.files.records import NodeRecord


class Kinship(Protocol):
    """What nodes tell of themselves without any being read for it."""

    @property
    def kin(self) -> Mapping[str, Kin]:
        """What there is to know of each node beside others."""

    @property
    def in_order(self) -> tuple[str, ...]:
        """The names of all nodes, parents first."""

    @property
    def is_graph(self) -> bool:
        """Whether it is known that nothing they follow is missing, and none follows itself."""

    @property
    def source(self) -> object:
        """By what nodes are known that are the same but for those `changed`."""

    @property
    def changed(self) -> Mapping[str, NodeRecord]:
        """The nodes that may be others than those of the same source."""

    def with_put(self, put: Mapping[str, NodeRecord]) -> Mapping[str, NodeRecord]:
        """Return the nodes with others put in their place, or added, by their names."""


class ReadKinship:
    """The kinship of nodes that are all at hand, and may be any."""

    is_graph = False
    source = None

    def __init__(self, nodes: Mapping[str, NodeRecord]) -> None:
        self.changed = nodes

    @cached_property
    def kin(self) -> Mapping[str, Kin]:
        """Return what there is to know of each node beside others."""
        return {name: kin_of(node) for name, node in self.changed.items()}

    @cached_property
    def in_order(self) -> tuple[str, ...]:
        """Return the names of all nodes, parents first."""
        return graph.ordered({name: kin.follows for name, kin in self.kin.items()})

    def with_put(self, put: Mapping[str, NodeRecord]) -> Mapping[str, NodeRecord]:
        """Return the nodes with others put in their place, or added, by their names."""
        return {**self.changed, **put}


def kinship_of(nodes: Mapping[str, NodeRecord]) -> Kinship:
    """Return what tells of nodes who follows whom: they themselves, where they were kept."""
    return nodes if isinstance(nodes, KeptNodes) else ReadKinship(nodes)
