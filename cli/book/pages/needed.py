"""What of a pattern needs attention besides its conflicts: what is not true, and what was noted."""

from collections.abc import Sequence
from dataclasses import dataclass

from trueup.cli.book.source import BookSource
from trueup.cli.render.garments.seen import note_in_short
from trueup.cli.wording.words import worded
from trueup.lineage.files.records import ConflictState
from trueup.lineage.replay.standing import Standing, waiting_at


@dataclass(frozen=True)
class OpenNote:
    """A fit note that is open on a garment, in words."""

    garment: str
    id: str
    words: str


@dataclass(frozen=True)
class Needed:
    """What does not hold and has no conflict, and fit notes on garments cut from it."""

    is_open: bool
    findings: tuple[str, ...]
    notes: tuple[OpenNote, ...]


def needed(source: BookSource, name: str, found: Sequence[Standing]) -> Needed:
    """Return what needs attention at a node, of what does not hold there."""
    findings = tuple(
        worded(each.says, source.unit) for each in found if each.is_open and not _waits(each)
    )
    notes = tuple(
        OpenNote(garment.name, note.id, note_in_short(note, source.unit))
        for garment in source.state.garments.values()
        if garment.pattern == name
        for note in garment.open_notes
    )
    waiting = waiting_at(source.evaluator, name)
    return Needed(bool(waiting or findings or notes), findings, notes)


def _waits(found: Standing) -> bool:
    """Return whether a finding is told of as a conflict that waits."""
    return found.conflict is not None and found.conflict.state is ConflictState.OPEN
