"""A garment's file, read into its record."""

import re

from trueup.geometry.limits import LARGEST_LENGTH
from trueup.lineage.errors import BadRecord
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.files.reading import COMMIT, converted, is_name, read_toml, refuse_ids

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
