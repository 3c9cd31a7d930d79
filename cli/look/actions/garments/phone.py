"""What a phone may send, or sent, for a garment."""

import base64
import math
from collections.abc import Iterator

from trueup.cli.look.acting import action
from trueup.cli.look.actions.garments.garment_forms import GarmentAsked
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.line import Line
from trueup.cli.look.phone.code import as_picture
from trueup.cli.look.phone_door import DoorState

_MEDIA = {"jpg": "image/jpeg", "png": "image/png", "webp": "image/webp"}


@action("phone", GarmentAsked, is_asking=False)
def tell_phone(desk: Desk, told: GarmentAsked) -> Iterator[Line]:
    """Yield where the form for the phone is, or the note that it sent; `none` without a phone."""
    door = desk.phone
    if door is None or door.garment != told.garment:
        yield {"none": True}
        return
    note, state = door.note, door.state
    line: dict[str, object] = {"state": state.value}
    if state is DoorState.OPEN:
        picture = as_picture(door.address, "QR code of the address for the phone")
        line |= {
            "code": str(picture),
            "address": door.address,
            "minutes": math.ceil(door.seconds_left / 60),
        }
    elif note is not None:
        photo = ""
        if note.photo is not None:
            content = base64.b64encode(note.photo.content).decode("ascii")
            photo = f"data:{_MEDIA[note.photo.suffix]};base64,{content}"
        line |= {
            "symptom": note.symptom,
            "where": note.where,
            "amount": note.amount,
            "words": note.words,
            "photo": photo,
        }
    yield line
