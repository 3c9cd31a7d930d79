"""A garment's file, written from its record with the maker's comments left where they are."""

import tomlkit

from trueup.lineage.files.garment_files import read_garment
from trueup.lineage.files.garment_records import FitNote, GarmentRecord
from trueup.lineage.files.records import FORMAT
from trueup.lineage.files.tables import comments
from trueup.lineage.files.tables.tables import present, readable, sync, table_of


def garment_text(new: GarmentRecord, text: bytes | None = None) -> bytes:
    """Return the file of a garment; `text` is what it held before, None for a new one.

    Raises CannotKeep for what `read_garment` would refuse.
    """
    document = comments.parsed(text) if text else tomlkit.document()
    old = read_garment(new.path, text) if text else None
    end = comments.take_end(document)
    fields = {"format": FORMAT, **_fields(new)}
    standing = {"format": FORMAT, **_fields(old)} if old else {}
    for field in standing.keys() - fields.keys():
        document.pop(field, None)
    for field, value in fields.items():
        if standing.get(field) != value:
            document[field] = value
    if old is None:
        document.add(tomlkit.nl())
    for name in ("allowances", "lacking"):
        amounts = getattr(new, name)
        if old is not None and getattr(old, name) != amounts:
            document.pop(name, None)
        if amounts and name not in document:
            document[name] = table_of(amounts)
    sync(document, "notes", old.notes if old else (), new.notes, lambda n: n.id, _note_fields)
    comments.put_end(document, end)
    return readable(new.path, tomlkit.dumps(document).encode(), read_garment)


def _fields(garment: GarmentRecord) -> dict[str, object]:
    return {
        "name": garment.name,
        "pattern": garment.pattern,
        "cut_from": garment.cut_from,
        "cut_on": garment.cut_on,
        "status": garment.status.value,
        **present(
            fabric=garment.fabric,
            wearer=garment.wearer,
            stitched_down=list(garment.stitched_down),
            altered_to=garment.altered_to,
        ),
    }


def _note_fields(note: FitNote) -> dict[str, object]:
    return {
        "id": note.id,
        "symptom": note.symptom,
        "place": note.place,
        "side": note.side.value,
        "date": note.date,
        **present(
            amount_mm=note.amount_mm,
            wearer=note.wearer,
            words=note.words,
            photo=note.photo,
            resolved_by=list(note.resolved_by),
        ),
    }
