"""Where a correction and a pattern's own steps do the same thing, or undo one another."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from geometry.changes import Change
from geometry.errors import GeometryError
from geometry.measures import measures
from geometry.units import write_length
from lineage import remedies
from lineage.bookkeeping import Cause, conflict_id
from lineage.evaluate import Evaluator, Stage
from lineage.records import (
    ConflictKind,
    ConflictRecord,
    NodeRecord,
    Remedy,
    Role,
    StepRecord,
    replace,
)
from lineage.steps import amount_of, change_of
from lineage.verdicts import MeasureChange, carried_in

_PLACES = ("edge", "dart", "piece")


@dataclass(frozen=True)
class Overlaps:
    """Looks for overlaps between a cause and the steps of the nodes below it.

    `wanted` are the measures the cause meant to change at its own node.
    """

    before: Evaluator
    after: Evaluator
    cause: Cause
    wanted: Sequence[MeasureChange]

    def doubled(self, node: NodeRecord) -> tuple[ConflictRecord, ...]:
        """Return a conflict for each own correction that does again what the cause newly does."""
        found = []
        for own in node.steps:
            repeated = self._repeated(own, self._new_steps)
            if own.role is not Role.CORRECTION or repeated is None or self.trues(own):
                continue
            says = (
                f"{node.name} has a {own.kind} of its own already, and now inherits another from "
                f"{self.cause.node}."
            )
            offered = remedies.for_doubled(own, self._amount(own))
            found.append(
                self._conflict(node, ConflictKind.DOUBLED, own, says, offered, repeated.id)
            )
        return tuple(found)

    @cached_property
    def _new_steps(self) -> tuple[StepRecord, ...]:
        """The steps of the cause that were not there before; none of a style, made for looks."""
        if self.cause.is_style:
            return ()
        return tuple(s for s in self._standing_steps if self._as_before(s) is None)

    @cached_property
    def _standing_steps(self) -> tuple[StepRecord, ...]:
        """The steps of the cause that are there now, not those it took out."""
        node = self.after.state.nodes.get(self.cause.node)
        return tuple(s for s in self.cause.steps if node and node.step(s.id))

    def _as_before(self, step: StepRecord) -> StepRecord | None:
        """Return a step as it was before the cause gave it other amounts."""
        node = self.before.state.nodes.get(self.cause.node)
        return node.step(step.id) if node else None

    def trues(self, own: StepRecord) -> bool:
        """Return whether an own step trues anew what the cause trued: then nothing disagrees."""
        change = self._change(own)
        repeated = self._repeated(own, self.cause.steps)
        return change is not None and change.trues and repeated is not None

    def overwriter(self, node: NodeRecord) -> StepRecord | None:
        """Return the own step after which nothing of the cause is left, if there is one."""
        return self._overwriter(self._stages(node), self.wanted)

    def overwritten(self, node: NodeRecord, *, wholly: bool) -> tuple[ConflictRecord, ...]:
        """Return a conflict for each step of the cause of which an own step left nothing.

        Where not the whole cause was lost, a step that trues is none: what it trued for is here.
        """
        if not wholly and len(self._standing_steps) < 2:
            return ()
        stages = self._stages(node)
        found = []
        for step in self._standing_steps:
            own = self._overwriter(stages, self._wanted_by(step))
            if own is None or (not wholly and self._is_truing(step)):
                continue
            says = (
                f"{node.name} draws this line anew with its own {own.kind}, so the {step.kind} "
                f"made on {self.cause.node} does not reach it."
            )
            record = self._conflict(node, ConflictKind.BOTH_SHAPED, own, says, (), step.id)
            waits = any(each.id == record.id for each in node.open_conflicts)
            repeat = step if waits else self._what_is_new(step)
            offered = remedies.for_both_shaped(repeat, self._amount(repeat))
            found.append(replace(record, remedies=(*offered, *record.remedies)))
        return tuple(found)

    def _what_is_new(self, step: StepRecord) -> StepRecord:
        """Return a step with only what the cause added to its amount, if it was there before."""
        old = self._as_before(step)
        was, now = self._amount(old) if old else None, self._amount(step)
        if was is None or now is None:
            return step
        return replace(step, values={**step.values, "by": write_length(now - was)})

    def _is_truing(self, step: StepRecord) -> bool:
        change = self._change(step)
        return change is not None and change.trues

    def _stages(self, node: NodeRecord) -> tuple[tuple[Stage, Stage], ...]:
        old, new = self.before.stages(node.name), self.after.stages(node.name)
        return tuple(zip(old, new, strict=False))

    def _overwriter(
        self, stages: Iterable[tuple[Stage, Stage]], wanted: Sequence[MeasureChange]
    ) -> StepRecord | None:
        arrived = False
        for old, new in stages:
            carried = carried_in(wanted, measures(old.draft), measures(new.draft))
            if not all(each.vanished for each in carried):
                arrived = True
            elif arrived:
                return new.step
        return None

    def _wanted_by(self, step: StepRecord) -> tuple[MeasureChange, ...]:
        """Return those of the wanted measures that one step of the cause meant to change."""
        change = self._change(step)
        try:
            meant = change.meant(self.before.draft(self.cause.node)) if change else ()
        except GeometryError:
            return ()
        return tuple(each for each in self.wanted if each.name in meant)

    def _repeated(self, own: StepRecord, steps: Iterable[StepRecord]) -> StepRecord | None:
        """Return the step of some that an own step does again."""
        mine = self._change(own)
        for step in steps if mine else ():
            other = self._change(step) if step.id != own.id else None
            if mine and other and mine.same_place(other) and not mine.opposes(other):
                return step
        return None

    def _change(self, step: StepRecord) -> Change | None:
        try:
            return change_of(step, self.after.state.unit)
        except GeometryError:
            return None

    def _amount(self, step: StepRecord) -> float | None:
        return amount_of(step, self.after.state.unit)

    def _conflict(
        self,
        node: NodeRecord,
        kind: ConflictKind,
        own: StepRecord,
        says: str,
        offered: Iterable[Remedy],
        correction: str,
    ) -> ConflictRecord:
        old, new = self.before.summary(node.name), self.after.summary(node.name)
        shaped = (place for place, step in sorted(new.shaped.items()) if step == own.id)
        named = next((str(own.values[w]) for w in _PLACES if w in own.values), "")
        piece, _, edge = next(shaped, named).partition(".")
        name = self.wanted[0].name if self.wanted else ""
        key = (f"{kind.value}:{own.id}", piece, edge)
        return ConflictRecord(
            id=conflict_id(node.name, kind, key, correction),
            kind=kind,
            arose_at=node.name,
            piece=piece,
            edge=edge,
            code=key[0],
            says=says,
            correction=correction,
            corrected=self.cause.node,
            change=own.id,
            before_mm=_hundredths(old.measures.get(name)),
            after_mm=_hundredths(new.measures.get(name)),
            since=self.cause.since,
            remedies=(*offered, *remedies.holding(node)),
        )


def _hundredths(value: float | None) -> float | None:
    return None if value is None else round(value, 2)
