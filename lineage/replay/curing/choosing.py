"""What choosing one maker's way does to a node: the remedies of `contradictions.py`. Pure."""

from typing import Any

import msgspec
from msgspec import Struct

from trueup.geometry.amounts import NO_BODY, Body
from trueup.geometry.units import Unit
from trueup.lineage.errors import BadRecord
from trueup.lineage.evaluation.steps import change_of
from trueup.lineage.files.reading import COMMIT
from trueup.lineage.files.records import (
    BlockDraft,
    ConflictRecord,
    DraftedFor,
    NodeRecord,
    ParentRecord,
    Remedy,
    StepRecord,
    replace,
)


class _Choice(Struct, frozen=True):
    """The `values` of a remedy: a step and its amounts, what is dropped, followed, drafted from."""

    step: str | None = None
    version: int = 1
    values: dict[str, Any] = {}
    drop: tuple[str, ...] = ()
    parents: tuple[ParentRecord, ...] = ()
    draft: dict[str, str] | None = None
    drafted_for: DraftedFor | None = None


def chosen(
    node: NodeRecord, conflict: ConflictRecord, remedy: Remedy, unit: Unit, body: Body = NO_BODY
) -> tuple[NodeRecord, tuple[StepRecord, ...]]:
    """Return the node after a remedy of a conflict between two makers, and the steps it touched.

    Raises BadRecord for a remedy that does not say what it should, and what `change_of` raises for
    amounts that cannot be read.
    """
    choice = _read(node, conflict, remedy)
    steps: list[StepRecord] = []
    if choice.step is not None:
        node, steps = _with_amounts(node, remedy, choice, unit, body)
    for step_id in choice.drop:
        gone = node.step(step_id)
        if gone is not None:
            node = replace(node, steps=tuple(s for s in node.steps if s.id != gone.id))
            steps.append(gone)
    wanted = {parent.name: parent for parent in choice.parents}
    parents = tuple(wanted.get(each.name, each) for each in node.parents)
    draft = node.draft
    if choice.draft is not None:
        taken = {name: text for name, text in choice.draft.items() if name != "system"}
        draft = BlockDraft(choice.draft["system"], taken)
        node = replace(node, drafted_for=choice.drafted_for)
    return replace(node, parents=parents, draft=draft), tuple(steps)


def _read(node: NodeRecord, conflict: ConflictRecord, remedy: Remedy) -> _Choice:
    """Return what a remedy says; it stands in a file, which may be a stranger's."""
    try:
        choice = msgspec.convert(remedy.values, _Choice)
    except msgspec.ValidationError as error:
        reason = str(error)
        raise BadRecord(node.path, f"{reason[0].lower()}{reason[1:]}", conflict.id) from None
    holds = [parent.hold for parent in choice.parents if parent.hold is not None]
    if not all(map(COMMIT.fullmatch, holds)) or any(p.pieces == () for p in choice.parents):
        raise BadRecord(node.path, "it names a parent without pieces or version", conflict.id)
    if choice.draft is not None and ("system" not in choice.draft or node.draft is None):
        raise BadRecord(node.path, "it is not drafted, or names no system", conflict.id)
    return choice


def _with_amounts(
    node: NodeRecord, remedy: Remedy, choice: _Choice, unit: Unit, body: Body
) -> tuple[NodeRecord, list[StepRecord]]:
    old = node.step(choice.step or "")
    if old is None:
        return node, []
    new = replace(old, kind=str(remedy.kind), version=choice.version, values=choice.values)
    if new == old:
        return node, []
    change_of(new, unit, body)
    steps = tuple(new if each.id == old.id else each for each in node.steps)
    return replace(node, steps=steps), [new]
