"""The steps a node is worked out by: taken over, made there, and bound to the body of its block."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import Self

from trueup.geometry.amounts import Body, bound_in
from trueup.geometry.errors import BadLength
from trueup.geometry.units import parse_length
from trueup.lineage.errors import BadRecord
from trueup.lineage.evaluation.grafting import (
    Scion,
    Taken,
    scion_of,
    stand_ins,
    worked,
)
from trueup.lineage.files.records import NodeRecord, ParentRecord, StepRecord, WorkedNode
from trueup.lineage.files.state import State
from trueup.lineage.limits import DEEPEST_LINEAGE


class Chains:
    """What an evaluator knows of chains without working any out; see its own docstring."""

    state: State
    earlier: Callable[[str], Self] | None
    way: list[str]
    _bodies: dict[str, Body]
    _worked: dict[str, NodeRecord]
    _scions: dict[str, Scion]
    _above: dict[str, frozenset[str]]

    def body(self, name: str) -> Body:
        """Return the measurements of the block a node descends from, by name, mm.

        More than one where it takes pieces from blocks of several bodies, which differ in it.
        """
        if name not in self._bodies:
            node = self.state.node(name)
            found: dict[str, tuple[float, ...]] = {}
            with self.deeper(node):
                for each in node.parents:
                    for taken, lengths in self.followed(each).body(each.name).items():
                        found[taken] = tuple(dict.fromkeys((*found.get(taken, ()), *lengths)))
            for taken, text in node.draft.body.items() if node.draft else ():
                with suppress(BadLength):  # what the block cannot be drafted from is told there
                    found[taken] = (parse_length(str(text), self.state.unit),)
            self._bodies[name] = found
        return self._bodies[name]

    def as_it_comes(self, name: str, step: StepRecord) -> StepRecord:
        """Return a step of a node with what its amounts come to on the body of its block."""
        if not bound_in(step.values):
            return step
        from trueup.lineage.evaluation.steps import resolved  # noqa: PLC0415  (see `start`)

        return resolved(step, self.state.unit, self.body(name))

    def worked(self, name: str) -> NodeRecord:
        """Return a node with the steps it is worked out by, amounts as they come to."""
        node = self.state.node(name)
        if isinstance(node, WorkedNode):  # it is tried out with other steps
            return node
        if name not in self._worked:
            found = worked(node, self.taken(name), lambda step: self.as_it_comes(name, step))
            if found is node:
                return node
            self._worked[name] = found
        return self._worked[name]

    def taken(self, name: str) -> Scion | None:
        """Return the chain that a node takes over with a style; None where it takes none."""
        node = self.state.node(name)
        if node.style is None:
            return None
        if name not in self._scions:
            with self.deeper(node):
                found = scion_of(self, node.style, stand_ins(node))
                there = {s for each in node.parents for s in self._made_above(each)}
            # What the block it stands on has already, of a lineage they share, is not made twice.
            self._scions[name] = found.without(there)
        return self._scions[name]

    def _made_above(self, parent: ParentRecord) -> frozenset[str]:
        """Return the ids of all steps that a parent, and all it derives from, is worked out by."""
        source = self.followed(parent)
        if parent.name not in source._above:
            source._above[parent.name] = source._made_in(parent.name)
        return source._above[parent.name]

    def _made_in(self, name: str) -> frozenset[str]:
        taken, node = self.taken(name), self.state.node(name)
        own = {*(s.id for s in node.steps), *(t.step.id for t in (taken.every if taken else ()))}
        with self.deeper(node):
            return frozenset(own).union(*(self._made_above(each) for each in node.parents))

    def as_taken_comes(self, name: str, taken: Scion) -> Scion:
        """Return a chain that a node takes over with what its amounts come to there."""
        return taken.mapped(lambda step: self.as_it_comes(name, step))

    def source_of(self, name: str, step_id: str) -> Taken | None:
        """Return a step that a node is worked out by as it is written, and whose it is."""
        own = self.state.node(name).step(step_id)
        if own is not None:
            return Taken(name, own)
        return next((each for each in self.taken_over(name) if each.step.id == step_id), None)

    def taken_over(self, name: str) -> tuple[Taken, ...]:
        """Return the steps that a node takes over, as it has them, in the order they are made."""
        taken = self.taken(name)
        return tuple(taken.every) if taken else ()

    @contextmanager
    def deeper(self, node: NodeRecord) -> Iterator[None]:
        """Look into the parents of a node; raises BadRecord where that leads on without end.

        A version says how deep a node stands in it, but not in the versions that its parents stay
        on, and what these stay on.
        """
        if len(self.way) > 2 * DEEPEST_LINEAGE:
            most = 2 * DEEPEST_LINEAGE
            reason = f"with the versions that are stayed on, it stands below {most} patterns"
            raise BadRecord(node.path, reason, "parents")
        self.way.append(node.name)
        try:
            yield
        finally:
            self.way.pop()

    def followed(self, parent: ParentRecord) -> Self:
        """Return the evaluator of the version at which a node follows a parent."""
        if parent.hold is None or self.earlier is None:
            return self
        return self.earlier(parent.hold)
