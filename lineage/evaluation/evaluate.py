"""Evaluate nodes: their changes, in order, applied to what their parents evaluate to.

Results are keyed by the content of what went in, so a node whose inputs did not change is not
evaluated again, and an input that comes out equal stops the wave.
"""

import dataclasses
import hashlib
import json
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from msgspec.structs import replace

from trueup.geometry.amounts import Body
from trueup.geometry.errors import GeometryError
from trueup.geometry.pieces.side import unsided
from trueup.geometry.sides.naming import shared_names
from trueup.lineage.errors import BadInput, BadRecord, Damaged
from trueup.lineage.evaluation.cache import Cache, NoCache
from trueup.lineage.evaluation.chains import Chains
from trueup.lineage.evaluation.grafting import Grown, Scion, content, grown, stages_beneath
from trueup.lineage.evaluation.lanes import Lanes
from trueup.lineage.evaluation.summary import Summary
from trueup.lineage.files.records import NodeRecord
from trueup.lineage.files.state import State

if TYPE_CHECKING:
    from trueup.geometry.pieces.draft import Draft
    from trueup.lineage.evaluation.ahead import Ahead
    from trueup.lineage.evaluation.chain import Stage

_LEAVES_AT_HAND = 256
"""Summaries of so many nodes from which none derives; of those from which one does, all are."""

Progress = Callable[[int, int], None]
"""Told how many nodes are done, of how many."""


@dataclass
class Evaluator(Chains):
    """Evaluates the nodes of one state; `ran` lists those that really were evaluated, in order.

    `earlier` gives the evaluator of an older commit, for nodes that stay on an old parent; `way`,
    which evaluators of one wardrobe share, are the nodes being looked into this moment, one for
    the sake of the other; `lanes` are where nodes can be evaluated beside one another; `progress`
    is told how many are done of those that were announced.
    """

    state: State
    cache: Cache = field(default_factory=NoCache)
    earlier: Callable[[str], "Evaluator"] | None = None
    ran: list[str] = field(default_factory=list)
    way: list[str] = field(default_factory=list)
    lanes: Lanes | None = None
    progress: Progress | None = None
    _summaries: dict[str, Summary] = field(default_factory=dict)
    _leaves: deque[str] = field(default_factory=deque)
    _drafts: dict[str, "Draft"] = field(default_factory=dict)
    _latest: "tuple[str, Draft] | None" = None
    _latest_stages: "tuple[str, tuple[Stage, ...]] | None" = None
    _keys: dict[str, str] = field(default_factory=dict)
    _bodies: dict[str, Body] = field(default_factory=dict)
    _worked: dict[str, NodeRecord] = field(default_factory=dict)
    _scions: dict[str, Scion] = field(default_factory=dict)
    _above: dict[str, frozenset[str]] = field(default_factory=dict)
    _grown: dict[str, Grown] = field(default_factory=dict)
    _ahead: "Ahead | None" = None
    _early: set[str] = field(default_factory=set)

    def announced(self, names: Sequence[str]) -> Iterator[str]:
        """Yield nodes, parents before children, each of which will be asked for as it is yielded.

        Where that is worth the while, they are evaluated beside one another from here on.
        """
        with self.looking_ahead(names):
            for done, name in enumerate(names):
                if self.progress is not None:
                    self.progress(done, len(names))
                if name in self._early:
                    self._early.remove(name)
                    self.ran.append(name)
                yield name

    @contextmanager
    def looking_ahead(self, names: Sequence[str]) -> Iterator[None]:
        """Evaluate nodes beside one another that will be asked for in this order, where it pays."""
        if self.lanes is not None:
            from trueup.lineage.evaluation.ahead import Ahead  # noqa: PLC0415  (see `start`)

            unknown = [name for name in names if name not in self._summaries]
            self._ahead = Ahead(self, unknown, self.lanes)
        try:
            yield
        finally:
            self._ahead = None

    def is_known(self, name: str) -> bool:
        """Return whether a node was evaluated already, now or at another time."""
        return name in self._summaries or self.cache.summary(self.key(name)) is not None

    def summary(self, name: str) -> Summary:
        """Return what is known of a node; evaluates it, and its parents, only where needed."""
        if name not in self._summaries:
            found = self.cache.summary(self.key(name))
            if found is None:
                found = self._evaluate(self.state.node(name))
            self._summaries[name] = found
            if self._ahead:
                self._ahead.go_on_below(name)
            if name not in self.state.are_parents:
                self._leaves.append(name)
                if len(self._leaves) > _LEAVES_AT_HAND:
                    del self._summaries[self._leaves.popleft()]
            return found
        return self._summaries[name]

    def know_early(self, name: str) -> None:
        """Evaluate a node ahead of its turn; that it ran is told when that comes."""
        told = len(self.ran)
        self.summary(name)
        self._early.update(self.ran[told:])
        del self.ran[told:]

    def beside(self, *nodes: NodeRecord) -> "Evaluator":
        """Return an evaluator of the same wardrobe with other nodes put in place."""
        return Evaluator(self.state.with_nodes(nodes), self.cache, self.earlier)

    def fingerprint(self, name: str) -> str:
        """Return the fingerprint of a node's geometry; empty where there is no such node."""
        return self.summary(name).fingerprint if name in self.state.nodes else ""

    def draft(self, name: str) -> "Draft":
        """Return the geometry of a node."""
        if self._latest and self._latest[0] == name:
            return self._latest[1]
        if name not in self._drafts:
            found = self.cache.draft(self.key(name))
            if found is None:
                summary = self.summary(name)
                # Summing it up may have drafted it.
                if self._latest and self._latest[0] == name:
                    return self._latest[1]
                self.ran.append(name)
                found = self.stages(name)[-1].draft
                self._latest = (name, found)
                if name in self.state.are_parents:
                    self._keep(name, summary, found)
                return found
            self._drafts[name] = found
        return self._drafts[name]

    def sound(self) -> "Evaluator":
        """Return the evaluator of what can be evaluated, after evaluating every node.

        What cannot is then told of in its state, as what cannot be read is.
        """
        lost: dict[str, Damaged] = {}
        for name in self.announced(self.state.in_order):
            node = self.state.node(name)
            if not any(each.name in lost for each in node.followed):
                try:
                    self.summary(name)
                except Damaged as error:
                    lost[name] = error
                except (BadInput, GeometryError) as error:  # a version it stays on is gone, ...
                    lost[name] = BadRecord(node.path, error.says)
        return dataclasses.replace(self, state=self.state.without(lost)) if lost else self

    def stages(self, name: str) -> "tuple[Stage, ...]":
        """Return the draft the chain starts from and the draft after each step."""
        if self._latest_stages is None or self._latest_stages[0] != name:
            from trueup.lineage.evaluation.chain import stages_of  # noqa: PLC0415  (see `start`)

            node, body = self.worked(name), self.body(name)
            self._latest_stages = name, stages_of(node, self.start(node), self.state.unit, body)
        return self._latest_stages[1]

    def key(self, name: str) -> str:
        """Return the key of everything that goes into a node."""
        if name not in self._keys:
            node = self.state.node(name)
            with self.deeper(node):
                parents = [
                    [self.followed(parent).summary(parent.name).fingerprint, parent.pieces]
                    for parent in node.parents
                ]
            origin: object = [node.draft.system, node.draft.body] if node.draft else None
            if node.traced:
                origin = hashlib.sha256(node.traced.drawing.encode()).hexdigest()
            steps = [[s.id, s.kind, s.version, s.values] for s in self.worked(name).steps]
            inputs = [self.state.settings.unit, origin, parents, steps]
            taken = self.taken(name)
            if taken and taken.on:
                inputs.append(content(self.as_taken_comes(name, taken)))
            text = json.dumps(inputs, sort_keys=True, default=str)
            self._keys[name] = hashlib.sha256(text.encode()).hexdigest()
        return self._keys[name]

    def parent_summaries(self, name: str) -> tuple[Summary, ...]:
        """Return the summaries of a node's parents, each at the version the node follows."""
        parents = self.state.node(name).parents
        return tuple(self.followed(each).summary(each.name) for each in parents)

    def giver(self, name: str, piece: str) -> "tuple[Evaluator, str] | None":
        """Return the parent that gives a node a piece, with the evaluator to ask about it.

        A piece that was parted into left and right comes down by the name of both; one that is
        called otherwise there, or was taken by another name, by its own. None for a drafted block.
        """
        for wanted in (piece, unsided(piece)):
            for parent in self.state.node(name).parents:
                source = self.followed(parent)
                there = source.summary(parent.name)
                given = parent.pieces or shared_names(there.told_of)
                if wanted in given or there.own_name(wanted) in map(there.own_name, given):
                    return source, parent.name
        return None

    def start(self, node: NodeRecord) -> "Draft":
        """Return what the chain of a node starts from; raises BadRecord where that cannot be."""
        with self._started(node) as start:
            below = self._standing_on(node, start)
            return below.draft if below else start

    @contextmanager
    def _started(self, node: NodeRecord) -> "Iterator[Draft]":
        """Give what a chain, and all that it stands on, is made on; raises BadRecord."""
        # What works geometry out is loaded where something is to be worked out: for who finds the
        # summaries kept it would take most of the time.
        from trueup.lineage.evaluation.starting import started  # noqa: PLC0415

        try:
            with self.deeper(node):
                parents = [
                    (self.followed(each).draft(each.name), each.pieces) for each in node.parents
                ]
            yield started(node, parents, self.state.unit)
        except GeometryError as error:
            table = "draft" if node.draft else "traced" if node.traced else "parents"
            raise BadRecord(node.path, error.says, table) from error

    def beneath(self, name: str) -> "tuple[tuple[Stage, ...], ...]":
        """Return the stages of each chain that a node's own stands on, as taken over with a style
        that is joined of several; the lowest first.
        """
        node, taken = self.state.node(name), self.taken(name)
        if taken is None or not taken.on:
            return ()
        with self._started(node) as block:
            under = self.as_taken_comes(name, taken)
            return stages_beneath(under, node.path, block, self.state.unit, self.body(name))

    def _standing_on(self, node: NodeRecord, block: "Draft | None") -> Grown | None:
        """Return what the steps taken over stand on, where that is not the block itself.

        `block` is the draft they are made on; worked out where it is not given.
        """
        taken = self.taken(node.name)
        if taken is None or taken.below is None:
            return None
        if node.name not in self._grown:
            if block is None:
                self.start(node)
            else:
                body = self.body(node.name)
                under = self.as_taken_comes(node.name, taken.below)
                self._grown[node.name] = grown(under, node.path, block, self.state.unit, body)
        return self._grown[node.name]

    def _evaluate(self, node: NodeRecord) -> Summary:
        self.ran.append(node.name)
        if self._ahead:
            summary, draft = self._ahead.evaluated(node)
        else:
            from trueup.lineage.evaluation.chain import worked_out  # noqa: PLC0415  (see `start`)

            whole, body = self.worked(node.name), self.body(node.name)
            summary, draft = worked_out(whole, self.start(node), self.state.unit, body)
        below = self._standing_on(node, None)
        if below:
            summary = replace(
                summary,
                problems=(*below.problems, *summary.problems),
                shaped={**below.shaped, **summary.shaped},
            )
        self._latest = (node.name, draft)
        self._keep(node.name, summary, draft)
        return summary

    def _keep(self, name: str, summary: Summary, draft: "Draft") -> None:
        """Keep what was evaluated; its geometry only where children will ask for it.

        Ten thousand leaves would fill the memory: only the latest one's geometry stays at hand.
        """
        has_children = name in self.state.are_parents
        if has_children:
            self._drafts[name] = draft
        self.cache.keep(self.key(name), summary, draft if has_children else None)
