"""What there is to say of a garment: what it is, what was noted on it, and what is open."""

from collections.abc import Iterator
from dataclasses import dataclass

from trueup.cli.amounts import length
from trueup.cli.book.addresses import correction
from trueup.cli.book.pages.correction_page import correction_title
from trueup.cli.book.source import BookSource
from trueup.cli.render.garments.garment import allowances_in_words
from trueup.cli.render.garments.seen import note_in_short
from trueup.cli.render.needed import changes_in_words
from trueup.cli.terminal.typesetting import upper_first
from trueup.cli.wording.words import worded
from trueup.lineage.chronicle.words import step_in_words
from trueup.lineage.files.garment_records import FitNote, GarmentRecord
from trueup.lineage.garments.since import Fate, Since, dropped_since


@dataclass(frozen=True)
class MendedBy:
    """What mended a fit note: in words, and where it is told, empty for nowhere."""

    words: str
    address: str


@dataclass(frozen=True)
class NoteTold:
    """A fit note in words: what was seen, by whom and when, what was said of it, what mended it.

    `gone` are corrections that mended it and are in no pattern any more.
    """

    id: str
    seen: str
    worn: str
    words: str
    is_open: bool
    mended: tuple[MendedBy, ...]
    gone: tuple[str, ...]


def notes_told(source: BookSource, garment: GarmentRecord) -> list[NoteTold]:
    """Return the notes on a garment, those first that nothing has mended yet."""
    told = [_told(source, garment, each) for each in garment.notes]
    return sorted(told, key=lambda each: not each.is_open)


def _told(source: BookSource, garment: GarmentRecord, note: FitNote) -> NoteTold:
    seen = note_in_short(note, source.unit)
    wearer = note.wearer or garment.wearer
    worn = f"worn by {wearer}, " if wearer else ""
    return NoteTold(
        note.id,
        upper_first(seen),
        f"{worn}{note.date.isoformat()}",
        note.words,
        note.is_open,
        tuple(_mended(source, each) for each in note.resolved_by),
        dropped_since(source.state, note),
    )


def _mended(source: BookSource, step_id: str) -> MendedBy:
    """Return a correction by the id of its step, or of the re-measuring, that a note names."""
    for commit, entry in source.corrections.items():
        if step_id in entry.step_ids and entry.taken_back_by is None:
            return MendedBy(correction_title(source, commit), correction(commit))
    for name, node in source.state.nodes.items():
        step = node.step(step_id)
        if step is not None:
            words = f"{name}: {step_in_words(step, source.unit)}"
            return MendedBy(words, source.addresses[name])
    return MendedBy(step_id, "")


def became_told(source: BookSource, became: Since) -> tuple[str, tuple[str, ...]]:
    """Return what became of the pattern since, and what was done to it; empty for nothing."""
    if became.fate is Fate.SAME:
        return "", ()
    return worded(became.says, source.unit), tuple(changes_in_words(became, source.unit))


def facts_told(source: BookSource, garment: GarmentRecord) -> Iterator[tuple[str, str]]:
    """Yield what a garment is, each fact with its name."""
    unit = source.unit
    yield "Status", garment.status.value
    version = garment.cut_from[:10]
    yield "Cut from", f"{garment.pattern} on {garment.cut_on.isoformat()}, version {version}"
    if garment.altered_to:
        yield "Altered to", f"{garment.pattern} as of version {garment.altered_to[:10]}"
    for name, value in (("Worn by", garment.wearer), ("Fabric", garment.fabric)):
        if value:
            yield name, value
    yield (
        "Allowances",
        "; ".join(allowances_in_words(garment, unit)) or "none: its pattern had none",
    )
    if garment.lacking:
        lacks = (f"{edge} {length(mm, unit)}" for edge, mm in garment.lacking.items())
        yield "Cloth lacked", ", ".join(lacks)
    if garment.stitched_down:
        yield "Stitched down", ", ".join(garment.stitched_down)
