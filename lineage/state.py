"""All nodes of a wardrobe as they stood at one moment: immutable, with their graph."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Self

import networkx as nx

from geometry.units import Unit
from lineage import graph
from lineage.errors import NoSuchConflict, NoSuchGarment, NoSuchStep
from lineage.garments.records import GarmentRecord
from lineage.records import ConflictRecord, ConflictState, NodeRecord, Settings, StepRecord


@dataclass(frozen=True)
class State:
    """The settings and nodes of a wardrobe at one commit, or as a step would leave them."""

    settings: Settings
    nodes: Mapping[str, NodeRecord]
    garments: Mapping[str, GarmentRecord] = field(default_factory=dict)

    @cached_property
    def graph(self) -> "nx.DiGraph[str]":
        """Return who derives from whom; raises MissingParent or Cycle."""
        return graph.graph_of(self.nodes)

    @property
    def unit(self) -> Unit:
        """Return the unit a bare number takes."""
        return Unit(self.settings.unit)

    def node(self, name: str) -> NodeRecord:
        """Return a node by name; raises NoSuchNode with the nearest names."""
        return graph.node_named(self.nodes, name)

    def garment(self, name: str) -> GarmentRecord:
        """Return a garment by name; raises NoSuchGarment with the nearest names."""
        if name not in self.garments:
            raise NoSuchGarment(name, graph.nearest(name, self.garments))
        return self.garments[name]

    def step(self, node: str, step_id: str) -> StepRecord:
        """Return a step of a node's chain; raises NoSuchNode or NoSuchStep."""
        found = self.node(node).step(step_id)
        if found is None:
            raise NoSuchStep(node, step_id, [step.id for step in self.node(node).steps])
        return found

    def conflict(self, conflict_id: str) -> ConflictRecord:
        """Return a conflict by its id, settled or not; raises NoSuchConflict with the open ones."""
        for node in self.nodes.values():
            for conflict in node.conflicts:
                if conflict.id == conflict_id:
                    return conflict
        raise NoSuchConflict(conflict_id, [conflict.id for conflict in self.open_conflicts])

    @cached_property
    def in_order(self) -> tuple[str, ...]:
        """Return the names of all nodes, parents before children."""
        return graph.in_order(self.graph, self.nodes)

    @cached_property
    def conflicts(self) -> tuple[ConflictRecord, ...]:
        """Return all conflicts there are or were, parents first."""
        in_conflict = (self.nodes[name] for name in self.in_order if self.nodes[name].conflicts)
        return tuple(conflict for node in in_conflict for conflict in node.conflicts)

    @cached_property
    def open_conflicts(self) -> tuple[ConflictRecord, ...]:
        """Return all conflicts that wait for a decision, parents first."""
        return tuple(each for each in self.conflicts if each.state is ConflictState.OPEN)

    def with_nodes(self, changed: Iterable[NodeRecord]) -> Self:
        """Return the state with nodes of the same names put in place, or added."""
        return replace(self, nodes={**self.nodes, **{node.name: node for node in changed}})
