"""What a recorded step did to garments and their fit notes."""

from collections.abc import Iterator

from msgspec import Struct

from trueup.geometry.said import Said, parts, said
from trueup.lineage.files.garment_records import FitNote, GarmentRecord
from trueup.lineage.files.state import State
from trueup.lineage.files.unreadable import name_of


class GarmentChange(Struct, frozen=True):
    """What happened to one garment: a sentence, and the fit note it is about, if any."""

    garment: str
    says: Said | str
    note: FitNote | None = None


def garment_changes(before: State | None, after: State) -> tuple[GarmentChange, ...]:
    """Return what a step did to every garment that can be read before and after, by their names."""
    old = before.garments if before else {}
    lost = {name_of(p) for state in (before, after) if state for p in state.unreadable_garments}
    found: list[GarmentChange] = []
    for name in sorted((old.keys() | after.garments.keys()) - lost):
        if old.get(name) != after.garments.get(name):
            found += _changes(old.get(name), after.garments.get(name))
    return tuple(found)


def _changes(before: GarmentRecord | None, after: GarmentRecord | None) -> Iterator[GarmentChange]:
    if after is None:
        if before is not None:
            yield GarmentChange(before.name, "its record was taken out")
        return
    if before is None:
        yield GarmentChange(after.name, _cut(after))
    else:
        if before.status is not after.status:
            yield GarmentChange(after.name, f"now {after.status.value}")
        if before.altered_to != after.altered_to:
            yield GarmentChange(after.name, _altered(after))
    known = {note.id: note for note in before.notes} if before else {}
    told = before is None or _told_of_it(before, after)
    for note in after.notes:
        if note != known.pop(note.id, None):
            told = True
            yield GarmentChange(after.name, note_in_words(note), note)
    for note in known.values():
        told = True
        yield GarmentChange(after.name, f"the note {note.id} was taken out", note)
    if not told:
        yield GarmentChange(after.name, "its record was changed")


def _told_of_it(before: GarmentRecord, after: GarmentRecord) -> bool:
    return (before.status, before.altered_to) != (after.status, after.altered_to)


def _altered(garment: GarmentRecord) -> str:
    if not garment.altered_to:
        return "its cloth is as it was cut"
    return f"altered to {garment.pattern} at {garment.altered_to[:10]}"


def _cut(garment: GarmentRecord) -> str:
    wearer = f" for {garment.wearer}" if garment.wearer else ""
    fabric = f" in {garment.fabric}" if garment.fabric else ""
    version = garment.cut_from[:10]
    return f"cut from {garment.pattern} at {version} on {garment.cut_on}{wearer}{fabric}"


def note_in_words(note: FitNote) -> Said:
    """Return what a fit note says."""
    side = "" if note.side.value == "both" else f" on the {note.side.value} side"
    amount = "" if note.amount_mm is None else said("amount-noted", by=note.amount_mm)
    wearer = f", seen on {note.wearer}" if note.wearer else ""
    words = f": {note.words}" if note.words else ""
    mended = f" (mended by {' '.join(note.resolved_by)})" if note.resolved_by else ""
    place = f"{note.id}: {note.symptom} at {note.place}{side}"
    return parts(place, amount, f"{wearer}{words}{mended}")
