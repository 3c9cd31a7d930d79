"""Where a correction and a pattern's own steps do the same thing, or undo one another."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from geometry.changes import Change
from geometry.errors import GeometryError
from geometry.measures import measures
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
)
from lineage.steps import change_of
from lineage.verdicts import MeasureChange, carried_in


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
        """Return a conflict for each own correction that does again what the cause does."""
        return tuple(
            self._conflict(
                node,
                ConflictKind.DOUBLED,
                own,
                f"{node.name} has a {own.kind} of its own already, and now inherits "
                f"another from {self.cause.node}.",
                remedies.for_doubled(own, self._amount(own)),
            )
            for own in node.steps
            if own.role is Role.CORRECTION and self._is_repeated(own) and not self.trues(own)
        )

    def trues(self, own: StepRecord) -> bool:
        """Return whether an own step trues anew what the cause trued: then nothing disagrees."""
        change = self._change(own)
        return change is not None and change.trues and self._is_repeated(own)

    def overwriter(self, node: NodeRecord) -> StepRecord | None:
        """Return the own step after which nothing of the correction is left, if there is one."""
        arrived = False
        pairs = zip(self.before.stages(node.name), self.after.stages(node.name), strict=False)
        for old, new in pairs:
            if not self._vanished(old, new):
                arrived = True
            elif arrived:
                return new.step
        return None

    def overwritten(self, node: NodeRecord, own: StepRecord) -> ConflictRecord:
        """Return the conflict between the correction and the own step that overwrote it."""
        step = self.cause.steps[0]
        return self._conflict(
            node,
            ConflictKind.BOTH_SHAPED,
            own,
            f"{node.name} draws this line anew with its own {own.kind}, so the {step.kind} made "
            f"on {self.cause.node} does not reach it.",
            remedies.for_both_shaped(step, self._amount(step)),
        )

    def _vanished(self, old: Stage, new: Stage) -> bool:
        carried = carried_in(self.wanted, measures(old.draft), measures(new.draft))
        return all(each.vanished for each in carried)

    def _is_repeated(self, own: StepRecord) -> bool:
        mine = self._change(own)
        others = (self._change(step) for step in self.cause.steps if step.id != own.id)
        return mine is not None and any(
            mine.same_place(other) and not mine.opposes(other) for other in others if other
        )

    def _change(self, step: StepRecord) -> Change | None:
        try:
            return change_of(step, self.after.state.unit)
        except GeometryError:
            return None

    def _amount(self, step: StepRecord) -> float | None:
        amount = getattr(self._change(step), "by", None)
        return float(amount) if isinstance(amount, int | float) else None

    def _conflict(
        self,
        node: NodeRecord,
        kind: ConflictKind,
        own: StepRecord,
        says: str,
        offered: Iterable[Remedy],
    ) -> ConflictRecord:
        old, new = self.before.summary(node.name), self.after.summary(node.name)
        shaped = (place for place, step in sorted(new.shaped.items()) if step == own.id)
        piece, _, edge = next(shaped, "").partition(".")
        name = self.wanted[0].name if self.wanted else ""
        key = (f"{kind.value}:{own.id}", piece, edge)
        return ConflictRecord(
            id=conflict_id(node.name, kind, key, self.cause.step_ids),
            kind=kind,
            arose_at=node.name,
            piece=piece,
            edge=edge,
            code=key[0],
            says=says,
            correction=self.cause.step_ids,
            corrected=self.cause.node,
            change=own.id,
            before_mm=_hundredths(old.measures.get(name)),
            after_mm=_hundredths(new.measures.get(name)),
            since=self.cause.since,
            remedies=(*offered, *remedies.holding(node)),
        )


def _hundredths(value: float | None) -> float | None:
    return None if value is None else round(value, 2)
