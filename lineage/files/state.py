"""All nodes of a wardrobe as they stood at one moment: immutable, with their graph."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import islice
from typing import TYPE_CHECKING, Self

from trueup.geometry.units import Unit
from trueup.lineage.errors import Damaged, NoSuchConflict, NoSuchGarment, NoSuchNode, NoSuchStep
from trueup.lineage.files import graph
from trueup.lineage.files.bodies.errors import NoSuchBody
from trueup.lineage.files.bodies.naming import called, name_for
from trueup.lineage.files.bodies.records import BodyRecord
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.files.kept.kin import Kin
from trueup.lineage.files.kept.kinship import Kinship, kinship_of
from trueup.lineage.files.records import (
    ConflictRecord,
    NodeRecord,
    Settings,
    StepRecord,
)
from trueup.lineage.files.unreadable import causes, is_of_node, name_of, sift

if TYPE_CHECKING:
    import networkx as nx


_SHARE_NAMES = ("blocks/", "patterns/", "garments/")
"""The folders in which a name stands once."""


@dataclass(frozen=True)
class State:
    """The settings and nodes of a wardrobe at one commit, or as a step would leave them.

    `unreadable` says, by the path of its file, why a node, garment or body is none of them: its
    file cannot be read, or it derives from one that cannot.
    """

    settings: Settings
    nodes: Mapping[str, NodeRecord]
    garments: Mapping[str, GarmentRecord] = field(default_factory=dict)
    unreadable: Mapping[str, Damaged] = field(default_factory=dict)
    bodies: Mapping[str, BodyRecord] = field(default_factory=dict)

    @cached_property
    def _kinship(self) -> Kinship:
        return kinship_of(self.nodes)

    @cached_property
    def graph(self) -> "nx.DiGraph[str]":
        """Return who derives from whom; raises MissingParent or Cycle."""
        return graph.graph_of(self.nodes, {name: kin.follows for name, kin in self.kin.items()})

    def below(self, names: Iterable[str]) -> tuple[str, ...]:
        """Return all that derive from some nodes, themselves left out, parents first.

        Raises MissingParent or Cycle.
        """
        self._require_graph()
        top = set(names)
        found, waiting = set(top), list(top)
        for name in waiting:  # grows while it is gone through
            waiting += (new := self._children.get(name, set()) - found)
            found |= new
        return self.parents_first(found - top)

    def parents_first(self, names: Iterable[str]) -> tuple[str, ...]:
        """Return nodes so that parents come before children, alphabetically among equals.

        Raises MissingParent or Cycle.
        """
        self._require_graph()
        wanted = set(names)
        return graph.ordered({name: wanted.intersection(self.kin[name].follows) for name in wanted})

    def _require_graph(self) -> None:
        """Raise MissingParent or Cycle where the nodes are such as a step may have made of them."""
        if not self._kinship.is_graph:
            _ = self.graph

    @cached_property
    def _children(self) -> Mapping[str, set[str]]:
        found: dict[str, set[str]] = defaultdict(set)
        for name, kin in self.kin.items():
            for parent in kin.follows:
                found[parent].add(name)
        return found

    @property
    def kin(self) -> Mapping[str, Kin]:
        """Return what there is to know of every node beside others, without reading any anew."""
        return self._kinship.kin

    def differing(self, before: "State") -> set[str]:
        """Return the nodes that may be others than in a state before; of those that are there now.

        None is read where both states were told from one that was read earlier.
        """
        here, there = self._kinship, before._kinship
        now, then = here.changed, there.changed
        if here.source is not there.source:
            now, then = dict(self.nodes.items()), dict(before.nodes.items())
        others = {n for n in now.keys() | then.keys() if now.get(n) is not then.get(n)}
        return {name for name in others if name in self.nodes}

    @property
    def unit(self) -> Unit:
        """Return the unit a bare number takes."""
        return Unit(self.settings.unit)

    def node(self, name: str) -> NodeRecord:
        """Return a node by name; raises NoSuchNode with the nearest names, Damaged."""
        if not self.has(name):
            raise NoSuchNode(name, graph.nearest(name, [*self.nodes, *self.lost_nodes]))
        return self.nodes[name]

    def has(self, name: str) -> bool:
        """Return whether there is such a node; raises Damaged for one that cannot be read."""
        if name in self.lost_nodes:
            raise self.lost_nodes[name]
        return name in self.nodes

    @cached_property
    def lost_nodes(self) -> Mapping[str, Damaged]:
        """Return why nodes cannot be read, or derive from such a one, by their names."""
        found = {name_of(path): e for path, e in self.unreadable.items() if is_of_node(path)}
        return {name: error for name, error in found.items() if name not in self.nodes}

    @property
    def broken_files(self) -> frozenset[str]:
        """Return the files that hold what cannot be read, or that are to be mended for it."""
        return frozenset({*self.unreadable, *(error.place for error in self.unreadable.values())})

    @property
    def unreadable_garments(self) -> tuple[str, ...]:
        """Return the files of garments that cannot be read."""
        return tuple(sorted(path for path in self.unreadable if path.startswith("garments/")))

    def path_of(self, name: str) -> str | None:
        """Return the file of a node or garment, readable or not; None where the name is free."""
        found = self.nodes.get(name) or self.garments.get(name)
        if found is not None:
            return found.path
        # Not the settings; and whoever is measured may be called as a block is.
        unread = (path for path in self.unreadable if path.startswith(_SHARE_NAMES))
        return next((path for path in unread if name_of(path) == name), None)

    def require_readable(self, name: str) -> None:
        """Raise Damaged where a name is that of a node or garment that cannot be read."""
        error = self.unreadable.get(self.path_of(name) or "")
        if error is not None:
            raise error

    def require_whole(self) -> None:
        """Raise Damaged where anything of the wardrobe cannot be read."""
        for error in causes(self.unreadable):
            raise error

    def garment(self, name: str) -> GarmentRecord:
        """Return a garment by name; raises NoSuchGarment with the nearest names, Damaged."""
        path = f"garments/{name}.toml"
        if path in self.unreadable:
            raise self.unreadable[path]
        if name not in self.garments:
            raise NoSuchGarment(name, graph.nearest(name, self.garments))
        return self.garments[name]

    def body(self, wearer: str) -> BodyRecord:
        """Return a body by its wearer, or the name of its file; raises NoSuchBody, Damaged."""
        found = called(self.bodies.values(), wearer)
        if found is not None:
            return found
        path = f"bodies/{name_for(wearer)}.toml"
        if path in self.unreadable:
            raise self.unreadable[path]
        raise NoSuchBody(wearer, graph.nearest(wearer, self.bodies))

    def step(self, node: str, step_id: str) -> StepRecord:
        """Return a step of a node's chain; raises NoSuchNode or NoSuchStep."""
        found = self.node(node).step(step_id)
        if found is None:
            raise NoSuchStep(node, step_id, [step.id for step in self.node(node).steps])
        return found

    def has_conflict(self, conflict_id: str) -> bool:
        """Return whether a conflict of this id is recorded, settled or not."""
        return any(each.id == conflict_id for each in self._all_conflicts())

    def conflict(self, conflict_id: str) -> ConflictRecord:
        """Return a conflict by its id, settled or not; raises NoSuchConflict with the open ones."""
        for conflict in self._all_conflicts():
            if conflict.id == conflict_id:
                return conflict
        known = [conflict.id for conflict in self.open_conflicts]
        raise NoSuchConflict(conflict_id, known, sorted(filter(is_of_node, self.unreadable)))

    def _all_conflicts(self) -> Iterator[ConflictRecord]:
        for name, kin in self.kin.items():
            if kin.conflicts:
                yield from self.nodes[name].conflicts

    @property
    def in_order(self) -> tuple[str, ...]:
        """Return the names of all nodes, parents before children."""
        return self._kinship.in_order

    @cached_property
    def are_parents(self) -> frozenset[str]:
        """Return the names of all nodes from which another derives."""
        return frozenset(name for kin in self.kin.values() for name in kin.follows)

    @cached_property
    def conflicts(self) -> tuple[ConflictRecord, ...]:
        """Return all conflicts there are or were, parents first."""
        in_conflict = (self.nodes[name] for name in self.in_order if self.kin[name].conflicts)
        return tuple(conflict for node in in_conflict for conflict in node.conflicts)

    @cached_property
    def open_conflicts(self) -> tuple[ConflictRecord, ...]:
        """Return all conflicts that wait for a decision, parents first."""
        return tuple(self._waiting())

    def first_open_conflicts(self, most: int) -> tuple[ConflictRecord, ...]:
        """Return the first of them, so many at most; no node is read for the others."""
        return tuple(islice(self._waiting(), most))

    @cached_property
    def waiting(self) -> int:
        """Return how many conflicts wait for a decision; no node is read for it."""
        return sum(kin.waiting for kin in self.kin.values())

    def _waiting(self) -> Iterator[ConflictRecord]:
        for name in self.in_order:
            if self.kin[name].waiting:
                yield from self.nodes[name].open_conflicts

    def with_nodes(self, changed: Iterable[NodeRecord]) -> Self:
        """Return the state with nodes of the same names put in place, or added."""
        return replace(self, nodes=self._kinship.with_put({node.name: node for node in changed}))

    def without(self, lost: Mapping[str, Damaged]) -> Self:
        """Return the state without some nodes, by name, and what derives from them, and why."""
        kept = [node for name, node in self.nodes.items() if name not in lost]
        paths = {self.nodes[name].path: error for name, error in lost.items() if name in self.nodes}
        sifted = sift(kept, {**self.unreadable, **paths})
        return replace(self, nodes=sifted.nodes, unreadable=sifted.unreadable)
