"""Record a change that was tried: one commit, the same as the command makes."""

from collections.abc import Iterator

import msgspec

from trueup.cli.look.acting import action
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.job import Urgency
from trueup.cli.look.owning.line import Line
from trueup.cli.look.recording import record_seen
from trueup.cli.look.trying.asked import AskedChange, command_of, proposing


class AskedRecord(msgspec.Struct, forbid_unknown_fields=True):
    """A change to record, and the version on which it was tried last."""

    change: AskedChange
    version: str


@action("record", AskedRecord, Urgency.STEP)
def record_change(desk: Desk, told: AskedRecord) -> Iterator[Line]:
    """Yield which step was recorded; `moved` where the wardrobe is no more as it was tried on."""
    asked = told.change
    yield record_seen(desk, told.version, proposing(desk, asked), command_of(desk, asked))
