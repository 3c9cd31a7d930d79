"""The forms of a garment's page."""

from collections.abc import Iterator

import msgspec

from trueup.cli.look.acting import action
from trueup.cli.look.noting.forms import note_form, resolve_form
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.line import Line
from trueup.cli.look.written import Short


class GarmentAsked(msgspec.Struct, forbid_unknown_fields=True):
    """A garment by its name."""

    garment: Short


@action("note-form", GarmentAsked)
def show_note_form(desk: Desk, told: GarmentAsked) -> Iterator[Line]:
    """Yield the fields of a fit note; raises NoSuchGarment."""
    yield {"html": str(note_form(desk, told.garment))}


@action("resolve-form", GarmentAsked)
def show_resolve_form(desk: Desk, told: GarmentAsked) -> Iterator[Line]:
    """Yield the fields that say what mended a note; raises NoSuchGarment."""
    yield {"html": str(resolve_form(desk, told.garment))}
