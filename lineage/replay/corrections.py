"""A cause taken apart into its corrections, so that each is judged for itself."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from trueup.geometry.changes import Change
from trueup.geometry.errors import GeometryError
from trueup.geometry.sides.telling import told_of
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.steps import change_of
from trueup.lineage.files.records import StepRecord, replace
from trueup.lineage.replay.bookkeeping import Cause
from trueup.lineage.replay.drafted_anew.meant import meant_by
from trueup.lineage.replay.drafted_anew.measurements import is_drafted_anew
from trueup.lineage.replay.intentions import Intention, drawn_by, intentions
from trueup.lineage.replay.verdicts import MeasureChange, measure_changes


@dataclass(frozen=True)
class Correction:
    """Steps of a cause judged together, with the wardrobe as it is `before` and `after` them.

    They are one, but for steps that were not simply added to the chain: those cannot be told apart.
    """

    node: str
    steps: tuple[StepRecord, ...]
    before: Evaluator
    after: Evaluator

    @cached_property
    def wanted(self) -> tuple[Intention, ...]:
        """Return what they changed at their own node as they were meant to."""
        if not all(self.node in each.state.nodes for each in (self.before, self.after)):
            return ()
        old, new = self.before.summary(self.node), self.after.summary(self.node)
        if self.is_drafted_anew:
            return meant_by(old, new)
        drawn = (*drawn_by(new, self.ids), *drawn_by(old, self.ids))
        return intentions(self.changes, self.before.draft(self.node), old, new, drawn)

    @cached_property
    def is_drafted_anew(self) -> bool:
        """Return whether the block itself is drafted from other measurements with it."""
        old, new = (each.state.nodes.get(self.node) for each in (self.before, self.after))
        return is_drafted_anew(old, new)

    @property
    def measure(self) -> str:
        """Return the measure it is told by: the first that its changes mean to change."""
        if self.node not in self.before.state.nodes:
            return ""
        draft = self.before.draft(self.node)
        for change in self.changes:
            try:
                if meant := told_of(change.meant, draft, change.side):
                    return meant[0]
            except GeometryError:
                continue
        return ""

    @property
    def trues(self) -> bool:
        """Return whether it is one step, which makes a line fit another as that comes."""
        return len(self.steps) == 1 and all(change.trues for change in self.changes)

    @property
    def ids(self) -> tuple[str, ...]:
        """Return the ids of the steps."""
        return tuple(step.id for step in self.steps)

    @property
    def changes(self) -> tuple[Change, ...]:
        """Return what the steps stand for, without those that cannot be read."""
        found = []
        for step in self.steps:
            try:
                found.append(change_of(step, self.after.state.unit))
            except GeometryError:
                continue
        return tuple(found)

    @property
    def kinds(self) -> str:
        """Return the kinds of the steps."""
        return ", ".join(step.kind for step in self.steps)


def taken_apart(before: Evaluator, after: Evaluator, cause: Cause) -> tuple[Correction, ...]:
    """Return the corrections of a cause in their order, each between two states of the wardrobe."""
    return tuple(_each(before, after, cause))


def _each(before: Evaluator, after: Evaluator, cause: Cause) -> Iterator[Correction]:
    if not _were_added(before, after, cause):
        yield Correction(cause.node, cause.steps, before, after)
        return
    node = after.state.node(cause.node)
    at = before
    for index, step in enumerate(cause.steps, 1):
        waiting = {each.id for each in cause.steps[index:]}
        to = after
        if waiting:
            kept = tuple(each for each in node.steps if each.id not in waiting)
            to = after.beside(replace(node, steps=kept))
        yield Correction(cause.node, (step,), at, to)
        at = to


def _were_added(before: Evaluator, after: Evaluator, cause: Cause) -> bool:
    """Return whether a cause is several steps and all of them are new in the chain."""
    old, new = (each.state.nodes.get(cause.node) for each in (before, after))
    if len(cause.steps) < 2 or old is None or new is None:
        return False
    return not any(map(old.step, (s.id for s in cause.steps))) and all(
        map(new.step, (s.id for s in cause.steps))
    )


def measured(
    before: Evaluator, after: Evaluator, cause: Cause
) -> tuple[tuple[MeasureChange, ...], tuple[MeasureChange, ...]]:
    """Return the measures the steps meant to change at their own node, and the knock-on ones.

    Of a block drafted anew it meant to change all that moved.
    """
    if cause.node not in before.state.nodes:
        return (), ()
    draft = before.draft(cause.node)
    meant: list[str] = []
    knock_on: list[str] = []
    for step in cause.steps:
        try:
            change = change_of(step, after.state.unit)
            meant += told_of(change.meant, draft, change.side)
            knock_on += told_of(change.knock_on, draft, change.side)
        except GeometryError:
            continue
    old, new = before.summary(cause.node).measures, after.summary(cause.node).measures
    if is_drafted_anew(*(each.state.nodes.get(cause.node) for each in (before, after))):
        moved = meant_by(before.summary(cause.node), after.summary(cause.node))
        meant += [each.name for each in moved]
    others = [name for name in knock_on if name not in meant]
    return measure_changes(meant, old, new), measure_changes(others, old, new)
