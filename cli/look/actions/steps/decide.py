"""Settle a conflict by the remedy that was chosen on its page."""

from collections.abc import Iterator

import msgspec

from trueup.cli.look.acting import action
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.job import Urgency
from trueup.cli.look.owning.line import Line
from trueup.cli.look.recording import record_seen
from trueup.cli.look.written import Long, Short, with_reason


class AskedDecision(msgspec.Struct, forbid_unknown_fields=True):
    """A conflict, the remedy chosen and why, and the version it was chosen on."""

    conflict: Short
    remedy: Short
    version: str
    why: Long = ""


@action("decide", AskedDecision, Urgency.STEP)
def decide(desk: Desk, told: AskedDecision) -> Iterator[Line]:
    """Yield which step was recorded; `moved` where the wardrobe is no more as it was shown."""
    words = with_reason(["decide", told.conflict, told.remedy], told.why)
    yield record_seen(
        desk,
        told.version,
        lambda wardrobe: wardrobe.propose_decision(told.conflict, told.remedy, told.why),
        desk.commands.line(*words),
    )
