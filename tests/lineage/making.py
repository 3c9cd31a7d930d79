"""Small wardrobes for tests, from literals: in memory, so that a test shows only what it is about.

Each node is written as a block or a child with its steps; `Bench` keeps a state and makes steps on
it as the wardrobe does, without files and without git.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from trueup.geometry.changes import Change, kind_named, read_change
from trueup.geometry.units import Unit
from trueup.lineage.errors import CannotStep
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.steps import step_from
from trueup.lineage.files.records import (
    BlockDraft,
    ConflictRecord,
    NodeRecord,
    ParentRecord,
    Role,
    Settings,
    StepRecord,
)
from trueup.lineage.files.state import State
from trueup.lineage.replay import edits
from trueup.lineage.replay.bookkeeping import Cause
from trueup.lineage.replay.edits import Edit
from trueup.lineage.replay.replay import PatternReplay, Replay, replay
from trueup.lineage.replay.verdicts import Verdict

BODY = {"bust": "88cm", "waist": "68cm", "back-length": "38cm", "sleeve-length": "54cm"}
TODAY = date(2025, 3, 1)


def change(kind: str, **values: Any) -> Change:
    return read_change(kind_named(kind), values, Unit.MILLIMETRE)


def step(step_id: str, kind: str, role: Role = Role.STYLE, **values: Any) -> StepRecord:
    return step_from(change(kind, **values), role, step_id)


def block(name: str = "village", *steps: StepRecord) -> NodeRecord:
    return NodeRecord(name, True, draft=BlockDraft("bust-proportion", BODY), steps=steps)


def child(
    name: str, *steps: StepRecord, of: str | Sequence[ParentRecord] = "village"
) -> NodeRecord:
    parents = (ParentRecord(of),) if isinstance(of, str) else tuple(of)
    return NodeRecord(name, False, parents, steps=steps)


def state(*nodes: NodeRecord) -> State:
    return State(Settings("Village store"), {node.name: node for node in nodes})


@dataclass
class Bench:
    """A state, and steps made on it one after another as a wardrobe makes them."""

    state: State
    made: int = 0
    last: Replay | None = None
    earlier: dict[str, State] = field(default_factory=dict)

    @property
    def head(self) -> str:
        return f"{self.made:040x}"

    @property
    def evaluator(self) -> Evaluator:
        return self.of(self.state)

    def of(self, state: State) -> Evaluator:
        return Evaluator(state, earlier=lambda commit: self.of(self.earlier[commit]))

    def measure(self, node: str, name: str) -> float:
        return self.evaluator.summary(node).measures[name]

    def correct(self, node: str, *changes: Change) -> Replay:
        return self._add(node, changes, Role.CORRECTION)

    def style(self, node: str, *changes: Change) -> Replay:
        return self._add(node, changes, Role.STYLE)

    def _add(self, node: str, changes: Sequence[Change], role: Role) -> Replay:
        edit = edits.add_steps(self.state, self.head, node, changes, role, "", TODAY)
        return self.take(edit)

    def amend(self, node: str, step_id: str, **values: Any) -> Replay:
        return self.take(edits.amend_step(self.state, node, step_id, values, ""))

    def drop(self, node: str, step_id: str) -> Replay:
        return self.take(edits.drop_step(self.state, node, step_id, ""))

    def decide(self, conflict: ConflictRecord | str, remedy: str) -> Replay:
        name = conflict if isinstance(conflict, str) else conflict.id
        return self.take(edits.decide(self.state, self.head, name, remedy, "so be it", TODAY))

    def take(self, edit: Edit) -> Replay:
        after = self.state.with_nodes(edit.nodes)
        cause = Cause(edit.node, edit.steps, self.head, is_style=edit.is_style)
        evaluator = self.of(after)
        found = replay(self.evaluator, evaluator, cause)
        left_out = {problem.step for problem in evaluator.summary(edit.node).problems}
        if left_out & {step.id for step in edit.steps}:
            raise CannotStep(edit.node, "it cannot be made.")
        self.earlier[self.head] = self.state
        self.state = after.with_nodes(found.changed)
        self.made += 1
        self.last = found
        return found

    def open_at(self, node: str) -> tuple[ConflictRecord, ...]:
        return self.state.node(node).open_conflicts

    def conflict_at(self, node: str) -> ConflictRecord:
        (found,) = self.open_at(node)
        return found


def pattern(found: Replay, name: str) -> PatternReplay:
    (there,) = [each for each in found.patterns if each.name == name]
    return there


def verdicts(bench: Bench) -> dict[str, Verdict]:
    assert bench.last is not None
    return {each.name: each.verdict for each in bench.last.patterns}
