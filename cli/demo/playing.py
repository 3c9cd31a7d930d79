"""Play a list of steps into a new wardrobe: every step one commit, worked out as any other is."""

import datetime
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from trueup.cli.demo.story import StoryStep, Tale, ToldCorrection
from trueup.geometry.changes import Change, kind_named, read_change
from trueup.geometry.units import Unit
from trueup.lineage.errors import NoSuchConflict
from trueup.lineage.faults.causes import Causes, CommonCause
from trueup.lineage.files.garment_errors import NoSuchNote
from trueup.lineage.files.records import BlockDraft, ConflictRecord, ParentRecord, Role
from trueup.lineage.garments.cutting import Cutting, cut
from trueup.lineage.garments.filing import Filing
from trueup.lineage.garments.mending import mend, mending
from trueup.lineage.garments.notes import Seen, note
from trueup.lineage.garments.wearing import set_status
from trueup.lineage.proposal import Proposal
from trueup.lineage.writable import WritableWardrobe

Plan = Proposal | Filing
"""A step worked out and not yet recorded: on patterns, or on a garment."""


def play(tale: Tale, folder: Path, after_each: Callable[[], None] = lambda: None) -> None:
    """Start a wardrobe in a new or empty folder and play the steps into it, a commit each.

    Raises FolderNotEmpty, and whatever a step raises that cannot be carried out.
    """
    today = datetime.date.today()
    with WritableWardrobe.start(folder, tale.name, tale.unit) as wardrobe:
        for told in tale.step:
            wardrobe.record(plan(wardrobe, told, today))
            after_each()


def plan(wardrobe: WritableWardrobe, told: StoryStep, today: datetime.date) -> Plan:
    """Work out what a step tells, against the wardrobe as it now is."""
    if told.cut:
        cutting = Cutting(
            told.cut, told.name, told.fabric, told.wearer, told.date, told.stitched_down
        )
        return replace(cut(wardrobe, cutting, today), why=told.why)
    if told.note:
        seen = Seen(
            *(told.symptom, told.place, told.amount, told.side),
            *(told.wearer, told.date, told.why),
        )
        return note(wardrobe, told.note, seen, today)
    if told.garment:
        return set_status(wardrobe, told.garment, told.status, told.why)
    if told.resolve:
        return _resolved(wardrobe, told, told.resolve)
    return propose(wardrobe, told)


def _resolved(wardrobe: WritableWardrobe, told: StoryStep, garment: str) -> Filing:
    notes = wardrobe.state.garment(garment).open_notes
    meant = [each.id for each in notes if each.symptom == told.symptom]
    if not meant:
        raise NoSuchNote(told.symptom, [each.id for each in notes])
    made = [each.id for each in wardrobe.state.node(told.at).steps if each.kind == told.by]
    return mend(wardrobe, meant[0], made[-1] if made else told.by, told.at, told.why)


def propose(wardrobe: WritableWardrobe, told: StoryStep) -> Proposal:
    """Propose what a step on a block or pattern tells."""
    proposal = _proposed(wardrobe, told)
    return replace(proposal, edit=replace(proposal.edit, why=told.why))


def propose_correction(
    wardrobe: WritableWardrobe, told: ToldCorrection, notes: Sequence[str]
) -> Proposal:
    """Propose the correction that a story keeps for the end; `notes` are those it mends."""
    changes = changes_told((told.change,), wardrobe.state.unit)
    proposal = wardrobe.propose_steps(told.node, changes, Role.CORRECTION, told.why)
    return mending(wardrobe, proposal, notes) if notes else proposal


def parents_told(told: StoryStep) -> Sequence[ParentRecord]:
    """Return the parents that a step of deriving names."""
    if isinstance(told.from_, str):
        return (ParentRecord(told.from_),)
    return tuple(ParentRecord(taken.name, taken.pieces) for taken in told.from_)


def changes_told(written: Sequence[Mapping[str, Any]], unit: Unit) -> tuple[Change, ...]:
    """Return the changes written as tables, each with its kind among its parameters."""
    return tuple(
        read_change(
            kind_named(str(table.get("kind"))),
            {name: value for name, value in table.items() if name != "kind"},
            unit,
        )
        for table in written
    )


def cause_of(found: Causes, told: ToldCorrection) -> CommonCause:
    """Return that of the causes which the story's correction cures; raises NoSuchNote."""
    sought = (told.node, told.place, told.mends)
    for each in found.common:
        if (each.node, each.place, each.symptom) == sought:
            return each
    raise NoSuchNote(told.mends, ())


def notes_of(cause: CommonCause) -> tuple[str, ...]:
    """Return the ids of the notes that come from a cause."""
    return tuple(seen.note.id for seen in cause.notes)


def _proposed(wardrobe: WritableWardrobe, told: StoryStep) -> Proposal:
    if told.draft:
        return wardrobe.propose_block(told.draft, BlockDraft(told.system, told.body))
    if told.derive:
        return wardrobe.propose_child(told.derive, parents_told(told), is_block=told.block)
    if told.decide:
        conflict = _waiting(wardrobe, told.decide)
        return wardrobe.propose_decision(conflict.id, told.remedy, told.why)
    changes = changes_told(told.changes, wardrobe.state.unit)
    if told.style:
        return wardrobe.propose_steps(told.style, changes, Role.STYLE, told.why)
    return wardrobe.propose_steps(str(told.correct), changes, Role.CORRECTION, told.why)


def _waiting(wardrobe: WritableWardrobe, node: str) -> ConflictRecord:
    waiting = wardrobe.state.node(node).open_conflicts
    if not waiting:
        raise NoSuchConflict(f"of {node}", [each.id for each in wardrobe.state.open_conflicts])
    return waiting[0]
