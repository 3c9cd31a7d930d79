"""A garment's file, read into its record and written from it."""

import re

import tomlkit

from trueup.geometry.limits import LARGEST_LENGTH
from trueup.lineage.errors import BadRecord
from trueup.lineage.files import comments
from trueup.lineage.files.garment_records import FitNote, GarmentRecord
from trueup.lineage.files.reading import COMMIT, converted, is_name, read_toml, refuse_ids
from trueup.lineage.files.records import FORMAT
from trueup.lineage.files.writing import present, sync, table_of

_PHOTO = re.compile(r"photos/[a-z0-9][a-z0-9._-]*\.(jpg|png|webp)")
_PATH = re.compile(r"garments/(?P<name>[^/]+)\.toml")


def is_garment_file(path: str) -> bool:
    """Return whether a path in the wardrobe holds a garment."""
    return _PATH.fullmatch(path) is not None


def read_garment(path: str, content: bytes) -> GarmentRecord:
    """Return a garment as a record; raises BadRecord naming file, table and field."""
    garment = converted(path, read_toml(path, content), GarmentRecord)
    place = _PATH.fullmatch(path)
    if place is None or garment.name != place["name"] or not is_name(garment.name):
        reason = f'the name "{garment.name}" is not that of its file or not a plain word'
        raise BadRecord(path, reason, "", "name")
    if not COMMIT.fullmatch(garment.cut_from):
        raise BadRecord(path, "it is not the full id of a commit", "", "cut_from")
    if garment.altered_to and not COMMIT.fullmatch(garment.altered_to):
        raise BadRecord(path, "it is not the full id of a commit", "", "altered_to")
    refuse_ids(path, "notes", [note.id for note in garment.notes])
    for edge, amount in garment.allowances.items():
        if not 0 <= amount <= LARGEST_LENGTH:
            raise BadRecord(path, "it is no allowance, from 0 mm up", "allowances", edge)
    for edge, amount in garment.lacking.items():
        if not 0 <= amount <= LARGEST_LENGTH:
            raise BadRecord(path, "it is no length, from 0 mm up", "lacking", edge)
    for index, note in enumerate(garment.notes, 1):
        if note.photo and not _PHOTO.fullmatch(note.photo):
            raise BadRecord(path, "it is no picture in photos/", f"notes {index}", "photo")
        if note.amount_mm is not None and not 0 < note.amount_mm <= LARGEST_LENGTH:
            raise BadRecord(path, "it is no amount above 0 mm", f"notes {index}", "amount_mm")
    return garment


def garment_text(new: GarmentRecord, text: bytes | None = None) -> bytes:
    """Return the file of a garment; `text` is what it held before, None for a new one."""
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
    return tomlkit.dumps(document).encode()


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
