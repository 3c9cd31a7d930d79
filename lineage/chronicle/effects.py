"""What a recorded step did, as far as it can be told without measuring it again."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct

from trueup.geometry.said import Said
from trueup.lineage.errors import Damaged
from trueup.lineage.files.records import (
    ConflictRecord,
    ConflictState,
    NodeRecord,
    StepRecord,
)
from trueup.lineage.files.state import State
from trueup.lineage.files.unreadable import causes
from trueup.lineage.replay.verdicts import MeasureChange

if TYPE_CHECKING:
    from trueup.lineage.replay.replay import PatternReplay


class StepEffect(Struct, frozen=True):
    """What a step did.

    `measures` are those it was meant to change and those that followed, at its own node, mm;
    `patterns` the verdict in each descendant; `opened` the conflicts it brought about, `settled`
    those it mended. `unreadable` says in words why one of the two versions, or a node of theirs,
    cannot be read: then of that nothing is told.
    """

    measures: tuple[MeasureChange, ...] = ()
    patterns: "tuple[PatternReplay, ...]" = ()
    opened: tuple[ConflictRecord, ...] = ()
    settled: tuple[ConflictRecord, ...] = ()
    unreadable: Said | str = ""


NONE = StepEffect()


def noted(befores: Sequence[State], after: State) -> StepEffect:
    """Return what a version that joined others, or looked such a one over, noted in its files.

    It made no step; conflicts are its doing that none of the versions before it had.
    """
    lost = {name: e for state in (*befores, after) for name, e in state.lost_nodes.items()}
    were = {c.id: c.state for before in befores for c in before.conflicts}
    settled_before = {
        c.id for b in befores for c in b.conflicts if c.state is ConflictState.SETTLED
    }
    opened = tuple(c for c in after.open_conflicts if c.id not in were and c.arose_at not in lost)
    settled = tuple(
        c
        for c in after.conflicts
        if c.state is ConflictState.SETTLED and c.id in were and c.id not in settled_before
    )
    return StepEffect(opened=opened, settled=settled, unreadable=in_words(lost))


def steps_changed(before: NodeRecord | None, after: NodeRecord | None) -> tuple[StepRecord, ...]:
    """Return the steps of a chain that are new, have other amounts, or are gone."""
    old = {step.id: step for step in before.steps} if before else {}
    new = {step.id: step for step in after.steps} if after else {}
    made = [step for name, step in new.items() if old.get(name) != step]
    return (*made, *(step for name, step in old.items() if name not in new))


def in_words(lost: Mapping[str, Damaged]) -> Said | str:
    """Return the first of the errors that is not only another's consequence, "" for none."""
    return next((error.says for error in causes(lost)), "")
