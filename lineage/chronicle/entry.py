"""One entry of the history: a commit with what it did, found when it is asked for."""

from collections.abc import Iterable, Sequence
from functools import cached_property
from typing import Protocol

from msgspec import Struct

from trueup.geometry.amounts import NO_BODY, Body
from trueup.lineage.chronicle.body_changes import BodyChange, body_changes
from trueup.lineage.chronicle.effects import NONE, StepEffect, noted, steps_changed
from trueup.lineage.chronicle.garment_changes import GarmentChange, garment_changes
from trueup.lineage.chronicle.reasons import reason
from trueup.lineage.errors import WardrobeError
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.garment_records import FitNote
from trueup.lineage.files.records import (
    ConflictRecord,
    Decision,
    DraftedFor,
    NodeRecord,
    Role,
    StepRecord,
    replace,
)
from trueup.lineage.files.state import State
from trueup.lineage.limits import MOST_JOINED
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.replay.drafted_anew.measurements import Remeasured, remeasured
from trueup.lineage.store import Commit
from trueup.lineage.trail import EDIT, NODE, STEPS, UNDOES, VERB

MEND = "mend"
DECIDE = "decide"
REMEASURE = "remeasure"


class Decided(Struct, frozen=True):
    """A decision about a conflict, and the commit that recorded it."""

    commit: Commit
    conflict: ConflictRecord
    decision: Decision
    taken_back: bool


class Around(Protocol):
    """What an entry asks of the history that it stands in."""

    wardrobe: OpenWardrobe

    @property
    def now(self) -> Evaluator:
        """Return the evaluator of the last version."""

    def taken_back_by(self, commit: str) -> str | None:
        """Return the commit that took one back; None where none did."""

    @property
    def decisions(self) -> Sequence[Decided]:
        """Return the decisions there were."""

    def find(self, commit: str) -> "Entry | None":
        """Return the entry of a commit."""

    def at(self, commit: str) -> Evaluator:
        """Return the evaluator of a version."""

    def place(self, commit: str) -> int:
        """Return how far down the history a commit lies."""


class Entry:
    """A commit of the wardrobe: who, when, what, why, and what it did.

    Only `commit` is read beforehand; everything else reads, and where it must evaluates, the
    versions before and after the commit when it is first asked for.
    """

    def __init__(self, commit: Commit, chronicle: Around) -> None:
        self.commit = commit
        self._chronicle = chronicle

    @property
    def is_join(self) -> bool:
        """Return whether the commit joined two histories; it made no step of its own."""
        return len(self.commit.parents) > 1

    @property
    def verb(self) -> str:
        """Return the verb it was made with, empty for a commit that none of them made."""
        return self.commit.trailers.get(VERB, "")

    @property
    def taken_back_by(self) -> str | None:
        """Return the commit that took it back, None where it stands."""
        return self._chronicle.taken_back_by(self.commit.id)

    @cached_property
    def undone(self) -> "Entry | None":
        """Return the entry that this one took back."""
        target = self.commit.trailers.get(UNDOES)
        return self._chronicle.find(target) if target else None

    @property
    def befores(self) -> tuple[Evaluator, ...]:
        """Return an evaluator of each version it follows; several where it joined them."""
        return tuple(self._chronicle.at(each) for each in self.commit.parents)

    @property
    def before(self) -> Evaluator | None:
        """Return the evaluator of the version before; None at the start of the history.

        Raises UnknownRevision where the version is not part of this copy, BadRecord.
        """
        parents = self.commit.parents
        return self._chronicle.at(parents[0]) if parents else None

    @property
    def after(self) -> Evaluator:
        """Return the evaluator of the version it made; raises BadRecord."""
        return self._chronicle.at(self.commit.id)

    @property
    def body(self) -> Body:
        """Return what the amounts of its steps may be bound to; nothing where it cannot be told."""
        try:
            return self.after.body(self.node) if self.node in self.after.state.nodes else NO_BODY
        except WardrobeError:
            return NO_BODY

    @property
    def states(self) -> tuple[State | None, State] | None:
        """Return the versions before and after, None where one of them cannot be read."""
        try:
            return (self.before.state if self.before else None), self.after.state
        except WardrobeError:
            return None

    @cached_property
    def node(self) -> str:
        """Return the node it is about; empty where it is about none, or about several."""
        if NODE in self.commit.trailers:
            return self.commit.trailers[NODE]
        if self.undone is not None:
            return self.undone.node
        return self.nodes_edited[0] if len(self.nodes_edited) == 1 else ""

    @cached_property
    def nodes_edited(self) -> tuple[str, ...]:
        """Return the nodes that edits by hand gave other contents, as far as both can be read."""
        states = self.states if self.verb == EDIT else None
        if not states:
            return ()
        before, after = states[0].nodes if states[0] else {}, states[1].nodes
        lost = {name for state in states if state for name in state.lost_nodes}
        return tuple(
            name
            for name in sorted((before.keys() | after.keys()) - lost)
            if _without_conflicts(before.get(name)) != _without_conflicts(after.get(name))
        )

    @cached_property
    def step_ids(self) -> tuple[str, ...]:
        """Return the ids of the steps it made, changed or took out."""
        if STEPS in self.commit.trailers:
            return tuple(self.commit.trailers[STEPS].split())
        if self.undone is not None:
            return self.undone.step_ids
        return tuple(step.id for step in self.steps) if self.verb == EDIT else ()

    @cached_property
    def steps(self) -> tuple[StepRecord, ...]:
        """Return those steps: as they stand after it, or stood before where it took them out."""
        states = self.states
        if states is None or not self.node:
            return ()
        before = states[0].nodes.get(self.node) if states[0] else None
        after = states[1].nodes.get(self.node)
        if self.verb == EDIT and STEPS not in self.commit.trailers:
            return steps_changed(before, after)
        found = (
            (after.step(each) if after else None) or (before.step(each) if before else None)
            for each in self.step_ids
        )
        return tuple(step for step in found if step is not None)

    @cached_property
    def remeasured(self) -> tuple[Remeasured, ...]:
        """Return the measurements of its block that it took anew, or took back."""
        states = self.states if self.node else None
        if not states or not states[0] or self.is_join:
            return ()
        before, after = (state.nodes.get(self.node) for state in states if state)
        return remeasured(before, after, states[1].unit)

    @cached_property
    def drafted_for(self) -> DraftedFor | None:
        """Return from whose set its block was drafted anew; None where it was from no other."""
        states = self.states if self.node and not self.is_join else None
        if not states:
            return None
        before, after = (state.nodes.get(self.node) if state else None for state in states)
        of = after.drafted_for if after else None
        return None if of == (before.drafted_for if before else None) else of

    @property
    def why(self) -> str:
        """Return why it was made, in the maker's words; empty where nobody said."""
        said = reason(self.commit.body)
        if said or self.verb != EDIT:
            return said
        return next((step.why for step in self.steps if step.why), "")

    @cached_property
    def effect(self) -> StepEffect:
        """Return what it did at its node and in every pattern below it; no remedy is tried."""
        return self._effect(with_remedies=False)

    @cached_property
    def effect_with_remedies(self) -> StepEffect:
        """Return the same, and what could be done about each conflict."""
        return self._effect(with_remedies=True)

    def _effect(self, *, with_remedies: bool) -> StepEffect:
        if len(self.commit.parents) > MOST_JOINED:
            return StepEffect(unreadable=f"it joins more than {MOST_JOINED} versions")
        try:
            befores = self.befores
            after = self.after
        except WardrobeError as error:
            return StepEffect(unreadable=error.says)
        if not befores:
            return NONE
        if self.is_join or self.verb == MEND:
            return noted([each.state for each in befores], after.state)
        # Loaded where something is measured again: a history without effects needs none of it.
        from trueup.lineage.chronicle.replayed import effect  # noqa: PLC0415
        from trueup.lineage.replay.bookkeeping import Cause  # noqa: PLC0415

        before = befores[0]
        is_style = bool(self.steps) and all(step.role is Role.STYLE for step in self.steps)
        return effect(
            before,
            after,
            self._chronicle.wardrobe.evaluator_of,
            Cause(self.node, self.steps, self.commit.parents[0], is_style=is_style),
            is_decision=self.verb == DECIDE,
            with_remedies=with_remedies,
            is_undo=self.undone is not None,
        )

    @cached_property
    def garments(self) -> tuple[GarmentChange, ...]:
        """Return what it did to garments and their fit notes; a join did nothing itself."""
        states = None if self.is_join else self.states
        return garment_changes(*states) if states else ()

    @cached_property
    def bodies(self) -> tuple[BodyChange, ...]:
        """Return what it did to what is known of bodies; a join did nothing itself."""
        states = None if self.is_join else self.states
        return body_changes(*states) if states else ()

    @cached_property
    def decided(self) -> tuple[Decided, ...]:
        """Return the decisions made later about conflicts that it brought."""
        if not (self.step_ids or self.remeasured) or self.undone is not None:
            return ()
        place = self._chronicle.place(self.commit.id)
        return tuple(
            each
            for each in self._chronicle.decisions
            if self._brought(each.conflict) and self._chronicle.place(each.commit.id) > place
        )

    def _brought(self, conflict: ConflictRecord) -> bool:
        """Return whether a conflict came with its steps, or with a block that it drafted anew."""
        if not conflict.correction:
            came_then = conflict.corrected == self.node and conflict.since in self.commit.parents
            return bool(self.remeasured) and came_then
        return bool(self._known_as(self.step_ids) & self._known_as(conflict.correction.split()))

    @cached_property
    def mended(self) -> tuple[tuple[str, FitNote], ...]:
        """Return the fit notes, by garment, that say one of its steps mended them."""
        mine = self._known_as(self.step_ids)
        garments = self._chronicle.now.state.garments.values()
        return tuple(
            (garment.name, note)
            for garment in garments
            for note in garment.notes
            if mine & self._known_as(note.resolved_by)
        )

    def _known_as(self, step_ids: Iterable[str]) -> set[str]:
        """Return ids of steps as the node now has them: two makers' same step is one."""
        node = self._chronicle.now.state.nodes.get(self.node)
        found = {each: node.step(each) if node else None for each in step_ids}
        return {step.id if step else each for each, step in found.items()}


def _without_conflicts(node: NodeRecord | None) -> NodeRecord | None:
    return replace(node, conflicts=()) if node else None
