"""Record a correction that was tried: one commit, the same as the command makes."""

from collections.abc import Iterator

import msgspec

from trueup.cli.carrying_out.changing import proposed_change
from trueup.cli.look.acting import action
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.job import Urgency
from trueup.cli.look.owning.line import Line
from trueup.cli.look.recording import record_seen
from trueup.cli.look.trying.asked import AskedCorrection, command_of, with_units
from trueup.lineage.files.records import Role
from trueup.lineage.proposal import Proposal
from trueup.lineage.writable import WritableWardrobe


class AskedRecord(msgspec.Struct, forbid_unknown_fields=True):
    """A correction to record, and the version on which it was tried last."""

    correction: AskedCorrection
    version: str


@action("record", AskedRecord, Urgency.STEP)
def record_correction(desk: Desk, told: AskedRecord) -> Iterator[Line]:
    """Yield which step was recorded; `moved` where the wardrobe is no more as it was tried on."""
    asked = told.correction
    values = with_units(asked, desk.source.unit)

    def propose(wardrobe: WritableWardrobe) -> Proposal:
        return proposed_change(
            *(wardrobe, asked.node, asked.kind, values, Role.CORRECTION, asked.why), asked.mends
        )

    yield record_seen(desk, told.version, propose, command_of(desk, asked))
