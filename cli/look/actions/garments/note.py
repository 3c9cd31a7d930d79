"""Write a fit note down, with a photo of what is seen."""

import datetime
from collections.abc import Iterator

import msgspec

from trueup.cli.look.acting import USUAL_SIZE, action
from trueup.cli.look.noting.forms import PHOTO
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.job import Urgency
from trueup.cli.look.owning.line import Line
from trueup.cli.look.recording import record_seen
from trueup.cli.look.written import Long, Short, with_option
from trueup.cli.options.garment_words import side_named
from trueup.lineage.files.photos import photo_of
from trueup.lineage.garments import notes
from trueup.lineage.limits import LARGEST_PHOTO

_LARGEST = LARGEST_PHOTO * 4 // 3 + USUAL_SIZE  # as base64 (RFC 4648)


class AskedNote(msgspec.Struct, forbid_unknown_fields=True):
    """A fit note as it was written, and the version it was written on.

    The photo is its bytes, none where there is no photo. One that came from a phone is here
    already, and is not sent again: `phoned` says that it is this note, `phoned_photo` that it is
    its photo.
    """

    garment: Short
    symptom: Short
    place: Short
    version: str
    amount: Short = ""
    side: Short = "both"
    wearer: Short = ""
    date: Short = ""
    words: Long = ""
    photo: bytes = b""
    phoned: bool = False
    phoned_photo: bool = False


@action("note", AskedNote, Urgency.STEP, largest=_LARGEST)
def note(desk: Desk, told: AskedNote) -> Iterator[Line]:
    """Yield which step was recorded; `moved` where the wardrobe is no more as it was shown."""
    door = desk.phone if desk.phone and desk.phone.garment == told.garment else None
    photo = photo_of(PHOTO, told.photo) if told.photo else None
    if told.phoned_photo:
        photo = door.note.photo if door and door.note else None
    seen = notes.Seen(
        told.symptom,
        told.place,
        told.amount or None,
        side_named(told.side),
        told.wearer,
        told.date or None,
        told.words,
        photo,
    )
    line = record_seen(
        desk,
        told.version,
        lambda wardrobe: notes.note(wardrobe, told.garment, seen, datetime.date.today()),
        desk.commands.line(*_words(told, has_photo=photo is not None)),
    )
    if told.phoned and door and "recorded" in line:
        door.confirm()
    yield line


def _words(told: AskedNote, *, has_photo: bool) -> list[str]:
    words = ["note", told.garment, told.symptom]
    for option, value in (
        ("--place", told.place),
        ("--amount", told.amount),
        ("--side", "" if told.side == "both" else told.side),
        ("--wearer", told.wearer),
        ("--date", told.date),
        ("--photo", "FILE" if has_photo else ""),
        ("--words", told.words),
    ):
        words = with_option(words, option, value)
    return words
