"""Which correction mended a fit note, and when that cannot be."""

import dataclasses
from collections.abc import Sequence

from trueup.lineage.errors import Damaged, NoSuchStep, UnknownRevision
from trueup.lineage.files import graph
from trueup.lineage.files.garment_errors import CannotMend
from trueup.lineage.files.garment_records import FitNote, GarmentRecord
from trueup.lineage.files.records import NodeRecord, RemeasuringRecord, Role, StepRecord, replace
from trueup.lineage.files.state import State
from trueup.lineage.garments.filing import Filing, text_of
from trueup.lineage.garments.notes import find_note
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.proposal import Proposal


def mend(
    wardrobe: OpenWardrobe, note_id: str, step_id: str, node: str | None = None, why: str = ""
) -> Filing:
    """Return the step that marks a fit note as mended by a correction; nothing is written yet.

    `node` says whose step it is, where several nodes have one of this id. Raises NoSuchNote,
    NoSuchNode, NoSuchStep, and CannotMend for a step that the garment's pattern does not build on,
    that was made for looks, or that was in the pattern already when the garment was cut; Damaged
    for a pattern that cannot be read.
    """
    state = wardrobe.state
    garment, note = find_note(state, note_id)
    state.has(garment.pattern)
    then = _state_when_cut(wardrobe, garment)
    above = ancestry(garment.pattern, state, then)
    made_at, step = _step(state, step_id, node, garment.pattern, above)
    _require_above(note_id, garment, made_at, above)
    if isinstance(step, StepRecord) and step.role is Role.STYLE:
        reason = f"{step_id} of {made_at} is a style change; name the correction that mended it"
        raise CannotMend(note_id, reason)
    if then and made_at in then.nodes and _made(then.nodes[made_at], step_id) == step:
        reason = f"{step_id} was in {made_at} already when {garment.name} was cut"
        raise CannotMend(note_id, reason)
    if step_id in note.resolved_by:
        raise CannotMend(note_id, f"it was mended by {step_id} already")
    mended = with_note(garment, replace(note, resolved_by=(*note.resolved_by, step_id)))
    says = f"Mended on {garment.name}: {note.symptom} at {note.place}, by {step_id} of {made_at}"
    return Filing(wardrobe.base, mended, "resolve", says, why, find_in(mended, note_id))


def could_mend(
    wardrobe: OpenWardrobe, garment: GarmentRecord
) -> tuple[tuple[str, StepRecord | RemeasuringRecord], ...]:
    """Return what may have mended a note on a garment, each with its node, as `mend` takes it.

    It was made since the garment was cut, in its pattern or in what that derives from.
    """
    state, then = wardrobe.state, _state_when_cut(wardrobe, garment)
    found = []
    for name in sorted(ancestry(garment.pattern, state, then) & state.nodes.keys()):
        for made_id in corrections_of(state.nodes[name]):
            made = _made(state.nodes[name], made_id)
            was = _made(then.nodes[name], made_id) if then and name in then.nodes else None
            if made is not None and made != was:
                found.append((name, made))
    return tuple(found)


def mending(wardrobe: OpenWardrobe, proposal: Proposal, note_ids: Sequence[str]) -> Proposal:
    """Return a proposed correction that also marks fit notes as mended by it, in the same step.

    Raises NoSuchNote, and CannotMend for a note on a garment whose pattern does not build on it.
    """
    state, corrected = wardrobe.state, proposal.edit.node
    changed: dict[str, GarmentRecord] = {}
    for note_id in dict.fromkeys(note_ids):
        garment, note = find_note(state, note_id)
        _require_above(note_id, garment, corrected, ancestry(garment.pattern, state))
        mended = replace(note, resolved_by=(*note.resolved_by, *proposal.edit.ids))
        changed[garment.name] = with_note(changed.get(garment.name, garment), mended)
    edit = proposal.edit
    named = " and ".join(dict.fromkeys(note_ids))
    return dataclasses.replace(
        proposal,
        edit=dataclasses.replace(edit, subject=f"{edit.subject}, mends {named}"),
        beside={garment.path: text_of(wardrobe, garment) for garment in changed.values()},
    )


def _require_above(
    note_id: str, garment: GarmentRecord, corrected: str, above: frozenset[str]
) -> None:
    if corrected not in above:
        reason = f"{garment.name} was cut from {garment.pattern}, which does not derive from"
        raise CannotMend(note_id, f"{reason} {corrected}")


def reopen(wardrobe: OpenWardrobe, note_id: str, why: str = "") -> Filing:
    """Return the step that takes it back that a fit note was mended; raises NoSuchNote, ..."""
    garment, note = find_note(wardrobe.state, note_id)
    if note.is_open:
        raise CannotMend(note_id, "it is open, and nothing has to be taken back")
    again = with_note(garment, replace(note, resolved_by=()))
    says = f"Open again on {garment.name}: {note.symptom} at {note.place}"
    return Filing(wardrobe.base, again, "resolve", says, why, find_in(again, note_id))


def with_note(garment: GarmentRecord, changed: FitNote) -> GarmentRecord:
    """Return a garment with the note of the same id put in place."""
    notes = tuple(changed if each.id == changed.id else each for each in garment.notes)
    return replace(garment, notes=notes)


def find_in(garment: GarmentRecord, note_id: str) -> FitNote:
    """Return the note of this id, which the garment has."""
    return next(each for each in garment.notes if each.id == note_id)


def ancestry(pattern: str, *states: State | None) -> frozenset[str]:
    """Return a pattern and all it derives from in any of the states that know it."""
    found = {pattern}
    for state in states:
        if state is not None and pattern in state.nodes:
            found |= graph.fit_above(state.nodes, pattern)
    return frozenset(found)


def _state_when_cut(wardrobe: OpenWardrobe, garment: GarmentRecord) -> State | None:
    """Return the wardrobe as it was when a garment was cut, None where that cannot be read."""
    try:
        return wardrobe.evaluator_at(garment.cut_from).state
    except (UnknownRevision, Damaged):
        return None


def _step(
    state: State, step_id: str, node: str | None, pattern: str, above: frozenset[str]
) -> tuple[str, StepRecord | RemeasuringRecord]:
    """Return a step, or a re-measuring, and its node: of one named, or else rather in `above`."""
    if node is not None:
        return node, state.node(node).remeasuring(step_id) or state.step(node, step_id)
    found = [
        (name, made)
        for name, record in state.nodes.items()
        if (made := _made(record, step_id)) is not None
    ]
    if not found:
        raise NoSuchStep(pattern, step_id, _corrections(state, above))
    return min(found, key=lambda each: (each[0] not in above, each[0]))


def _made(node: NodeRecord, made: str) -> StepRecord | RemeasuringRecord | None:
    return node.step(made) or node.remeasuring(made)


def _corrections(state: State, names: frozenset[str]) -> list[str]:
    nodes = [state.nodes[name] for name in sorted(names & state.nodes.keys())]
    return [each for node in nodes for each in corrections_of(node)]


def corrections_of(node: NodeRecord) -> tuple[str, ...]:
    """Return the ids of what may have mended a note: a node's corrections and re-measurings."""
    steps = (step.id for step in node.steps if step.role is not Role.STYLE)
    return (*steps, *(each.id for each in node.remeasured))
