"""Where a correction and a pattern's own steps do the same thing, or undo one another."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

from trueup.geometry.changes import Change
from trueup.geometry.changes.on_side import told_by
from trueup.geometry.errors import GeometryError
from trueup.geometry.said import Fact, Said, said
from trueup.geometry.sides.naming import read_at
from trueup.geometry.units import write_length
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.steps import amount_of, change_of
from trueup.lineage.files.records import (
    ConflictKind,
    ConflictRecord,
    NodeRecord,
    Remedy,
    Role,
    StepRecord,
    replace,
)
from trueup.lineage.replay.bookkeeping import Cause
from trueup.lineage.replay.corrections import Correction
from trueup.lineage.replay.curing import names, remedies
from trueup.lineage.replay.curing.cures import Trials, left_open
from trueup.lineage.replay.intentions import carried_of, read
from trueup.lineage.replay.naming import conflict_id
from trueup.lineage.replay.repeating import repeating
from trueup.lineage.replay.taken_over.on_a_graft import beside
from trueup.lineage.replay.verdicts import Carried

_PLACES = ("edge", "dart", "piece")


@dataclass(frozen=True)
class Overlaps:
    """Looks for overlaps between a cause and the steps of the nodes below it.

    `corrections` are what the cause was taken apart into, each judged for itself.
    """

    before: Evaluator
    after: Evaluator
    cause: Cause
    corrections: Sequence[Correction]

    def doubled(self, node: NodeRecord) -> tuple[ConflictRecord, ...]:
        """Return a conflict for each own correction that does again what the cause newly does."""
        found = []
        for own in node.steps:
            repeated = self._repeated(node, own, self._new_steps)
            if own.role is not Role.CORRECTION or repeated is None or self.trues(node, own):
                continue
            carried = self._without_own(node, own, repeated)
            if not self._reaches(node, own) or (carried and all(c.vanished for c in carried)):
                continue
            says = said("doubled", node=node.name, kind=own.kind, corrected=self.cause.node)
            offered = remedies.for_doubled(own, self._amount(own))
            if carried is None or not all(each.arrived for each in carried):
                offered = tuple(r for r in offered if r.name != names.DROP_OWN_COPY)
            offered = self._without(node, own, offered)
            twice = self._amount(repeated)
            found.append(
                self._conflict(node, ConflictKind.DOUBLED, own, says, offered, repeated.id, twice)
            )
        return tuple(found)

    def _reaches(self, node: NodeRecord, own: StepRecord) -> bool:
        """Return whether a piece that an own step works on comes down from where the cause is."""
        summary = self.after.summary(node.name)
        pieces = {edge.partition(".")[0] for edge, step in summary.shaped.items() if step == own.id}
        named = {str(own.values[w]).partition(".")[0] for w in _PLACES if w in own.values}
        return any(self.comes_down(node.name, p) for p in pieces or named or summary.pieces)

    def comes_down(self, name: str, piece: str) -> bool:
        """Return whether a piece of a node is taken over, as it is now, from where the cause is."""
        piece = self.after.summary(name).own_name(piece)
        while name != self.cause.node:
            giver = self.after.giver(name, piece)
            if giver is None or giver[0] is not self.after:
                return False
            name = giver[1]
        return True

    def _without_own(
        self, node: NodeRecord, own: StepRecord, repeated: StepRecord
    ) -> tuple[Carried, ...] | None:
        """Return how much of the cause's step arrives where an own step is taken out.

        None where a step of the node cannot be made then.
        """
        correction = self._correction(repeated.id)
        if correction is None:
            return ()
        without = replace(node, steps=tuple(s for s in node.steps if s.id != own.id))
        old = correction.before.beside(without).summary(node.name)
        new = correction.after.beside(without).summary(node.name)
        return None if new.problems else carried_of(correction.wanted, old, new)

    def _without(
        self, node: NodeRecord, own: StepRecord, offered: tuple[Remedy, ...]
    ) -> tuple[Remedy, ...]:
        """Return remedies with what dropping an own step would leave open."""
        trials = Trials(self.after, node)
        left = trials.with_steps(tuple(s for s in node.steps if s.id != own.id))
        return tuple(
            replace(each, leaves=left_open(trials.now, left))
            if each.name == names.DROP_OWN_COPY and left is not None
            else each
            for each in offered
        )

    def _correction(self, step: str) -> Correction | None:
        return next((c for c in self.corrections if step in c.ids), None)

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
        if self.cause.node not in self.before.state.nodes:
            return None
        return self.before.worked(self.cause.node).step(step.id)

    def trues(self, node: NodeRecord, own: StepRecord) -> bool:
        """Return whether an own step trues anew what the cause trued: then nothing disagrees."""
        change = self._change(own, node.name)
        repeated = self._repeated(node, own, self.cause.steps)
        return change is not None and change.trues and repeated is not None

    def overwriter(self, node: NodeRecord, correction: Correction) -> StepRecord | None:
        """Return the own step after which nothing of a correction is left, if there is one."""
        return self._turning(
            node, correction, lambda carried: not all(each.vanished for each in carried)
        )

    def shortener(self, node: NodeRecord, correction: Correction) -> StepRecord | None:
        """Return the own step after which a correction that was there whole is no more so."""
        return self._turning(
            node, correction, lambda carried: all(each.arrived for each in carried)
        )

    def _turning(
        self,
        node: NodeRecord,
        correction: Correction,
        is_there: Callable[[tuple[Carried, ...]], bool],
    ) -> StepRecord | None:
        """Return the own step after which something is no more so of a correction, and was."""
        old, new = correction.before.stages(node.name), correction.after.stages(node.name)
        was_there = False
        for before, after in beside(old, new):
            carried = carried_of(correction.wanted, read(before.draft), read(after.draft))
            if is_there(carried):
                was_there = True
            elif was_there:
                return after.step
        return None

    def overwritten(
        self, node: NodeRecord, correction: Correction, own: StepRecord
    ) -> tuple[ConflictRecord, ...]:
        """Return a conflict for each step of a correction of which an own step left nothing."""
        found = []
        for step in correction.steps:
            if step not in self._standing_steps:
                continue
            says, lost = self._said("drawn-anew", node, own, step), self._amount(step)
            record = self._conflict(node, ConflictKind.BOTH_SHAPED, own, says, (), step.id, lost)
            waits = any(each.id == record.id for each in node.open_conflicts)
            repeat = step if waits else self._what_is_new(step)
            again = repeating(self.after, node, correction, repeat, in_full=not waits)
            keep = remedies.KEEP_OWN_LINE
            offered = (again, keep) if again else (keep,)
            found.append(replace(record, remedies=(*offered, *record.remedies)))
        return tuple(found)

    def shortened(
        self, node: NodeRecord, correction: Correction, own: StepRecord, worst: Carried
    ) -> tuple[ConflictRecord, ...]:
        """Return a conflict for a correction of which an own step lets only a part arrive.

        Making it once more, by what is missing, is offered only where that brings it. There is none
        where the correction is not one step that stands: what is undone leaves nothing to decide.
        """
        if len(correction.steps) != 1 or correction.steps[0] not in self._standing_steps:
            return ()
        (step,) = correction.steps
        wanted, got = abs(worst.wanted_mm), worst.got_mm or 0.0
        arrived = got if worst.wanted_mm > 0 else -got
        place = worst.name.removesuffix(".line")
        came: dict[str, Fact] = {"got": arrived, "wanted": wanted, "measure": place}
        in_part = 0 <= arrived < wanted
        says = self._said(
            "arrives-in-part" if in_part else "arrives-otherwise", node, own, step, came
        )
        kind, off = ConflictKind.BOTH_SHAPED, wanted - arrived
        record = self._conflict(node, kind, own, says, (), step.id, off)
        if place in self.after.summary(node.name).shaped:
            piece, _, edge = place.partition(".")
            own_name = self.after.summary(node.name).own_name(piece)
            own_name = "" if own_name == piece else own_name
            record = replace(record, piece=piece, edge=edge, own_name=own_name)
        again = repeating(self.after, node, correction, self._what_is_new(step), in_full=True)
        offered = (again, remedies.KEEP_OWN_LINE) if again else (remedies.KEEP_OWN_LINE,)
        return (replace(record, remedies=(*offered, *record.remedies)),)

    def _said(
        self,
        what: str,
        node: NodeRecord,
        own: StepRecord,
        step: StepRecord,
        more: Mapping[str, Fact] = MappingProxyType({}),
    ) -> Said:
        facts = {"node": node.name, "own": own.kind, "kind": step.kind}
        return said(what, **facts, corrected=self.cause.node, **more)

    def _what_is_new(self, step: StepRecord) -> StepRecord:
        """Return a step with only what the cause added to its amount, if it was there before."""
        old = self._as_before(step)
        was, now = self._amount(old) if old else None, self._amount(step)
        if was is None or now is None:
            return step
        return replace(step, values={**step.values, "by": write_length(now - was)})

    def _repeated(
        self, node: NodeRecord, own: StepRecord, steps: Iterable[StepRecord]
    ) -> StepRecord | None:
        """Return the step of some that an own step of a node does again."""
        alike = [step for step in steps if step.id != own.id and step.kind == own.kind]
        mine = self._change(own, node.name) if alike else None
        for step in alike if mine else ():
            other = self._change(step, self.cause.node)
            if mine and other and mine.same_place(other) and not mine.opposes(other):
                return step
        return None

    def _change(self, step: StepRecord, node: str) -> Change | None:
        """Return the change a step of a node stands for, its pieces told by their own names."""
        try:
            change = change_of(step, self.after.state.unit)
        except GeometryError:
            return None
        return told_by(change, self.after.summary(node).called)

    def _amount(self, step: StepRecord) -> float | None:
        return amount_of(step, self.after.state.unit)

    def _measure(self, step: str) -> str:
        """Return the measure by which a step of the cause is read, empty without one."""
        correction = self._correction(step)
        return correction.measure if correction else ""

    def _conflict(
        self,
        node: NodeRecord,
        kind: ConflictKind,
        own: StepRecord,
        says: Said,
        offered: Iterable[Remedy],
        correction: str,
        excess: float | None,
    ) -> ConflictRecord:
        old, new = self.before.summary(node.name), self.after.summary(node.name)
        shaped = (place for place, step in sorted(new.shaped.items()) if step == own.id)
        named = next((str(own.values[w]) for w in _PLACES if w in own.values), "")
        piece, _, edge = next(shaped, named).partition(".")
        piece = new.own_name(piece)
        name = self._measure(correction)
        key = (f"{kind.value}:{own.id}", piece, edge)
        return ConflictRecord(
            id=conflict_id(node.name, kind, key, correction),
            kind=kind,
            arose_at=node.name,
            piece=new.as_called(piece),
            own_name=piece if piece in new.called else "",
            edge=edge,
            code=key[0],
            says=replace(says, facts={**says.facts, "read": name}) if name else says,
            correction=correction,
            corrected=self.cause.node,
            change=own.id,
            before_mm=_hundredths(read_at(old.measures, name)),
            after_mm=_hundredths(read_at(new.measures, name)),
            excess_mm=round(abs(excess or 0.0), 2),
            since=self.cause.since,
            remedies=(*offered, *remedies.holding(node)),
        )


def _hundredths(value: float | None) -> float | None:
    return None if value is None else round(value, 2)
