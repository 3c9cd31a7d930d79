"""Record how far a garment has come."""

from collections.abc import Iterator

import msgspec

from trueup.cli.book.templating import page
from trueup.cli.look.acting import action
from trueup.cli.look.actions.garments.garment_forms import GarmentAsked
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.job import Urgency
from trueup.cli.look.owning.line import Line
from trueup.cli.look.recording import record_seen
from trueup.cli.look.trying.became import TEMPLATES
from trueup.cli.look.written import Long, Short, with_reason
from trueup.cli.options.garment_words import status_named
from trueup.lineage.files.garment_records import Status
from trueup.lineage.garments.wearing import set_status


class AskedStatus(msgspec.Struct, forbid_unknown_fields=True):
    """How far a garment has come, and the version it was seen at."""

    garment: Short
    status: Short
    version: str
    why: Long = ""


@action("status-form", GarmentAsked)
def show_status_form(desk: Desk, told: GarmentAsked) -> Iterator[Line]:
    """Yield the fields that say how far a garment has come; raises NoSuchGarment."""
    now = desk.wardrobe.state.garment(told.garment).status.value
    known = [each.value for each in Status]
    yield {"html": str(page("status_form.html", TEMPLATES, known=known, status=now))}


@action("status", AskedStatus, Urgency.STEP)
def set_garment_status(desk: Desk, told: AskedStatus) -> Iterator[Line]:
    """Yield which step was recorded; `moved` where the wardrobe is no more as it was shown."""
    wanted = status_named(told.status)
    words = ["garment", told.garment, "--status", told.status]
    yield record_seen(
        desk,
        told.version,
        lambda wardrobe: set_status(wardrobe, told.garment, wanted, told.why),
        desk.commands.line(*with_reason(words, told.why)),
    )
