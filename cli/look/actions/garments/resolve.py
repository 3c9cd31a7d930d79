"""Say which correction mended a fit note, or that none did after all."""

from collections.abc import Iterator

import msgspec

from trueup.cli.look.acting import action
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.job import Urgency
from trueup.cli.look.owning.line import Line
from trueup.cli.look.recording import record_seen
from trueup.cli.look.written import Long, Short, with_reason
from trueup.lineage.garments import mending
from trueup.lineage.garments.filing import Filing
from trueup.lineage.writable import WritableWardrobe


class AskedResolve(msgspec.Struct, forbid_unknown_fields=True):
    """A fit note of a garment and what mended it, at which node; without a step it is open."""

    garment: Short
    note: Short
    version: str
    step: Short = ""
    node: Short = ""
    why: Long = ""


@action("resolve", AskedResolve, Urgency.STEP)
def resolve(desk: Desk, told: AskedResolve) -> Iterator[Line]:
    """Yield which step was recorded; `moved` where the wardrobe is no more as it was shown."""

    def plan(wardrobe: WritableWardrobe) -> Filing:
        if not told.step:
            return mending.reopen(wardrobe, told.note, told.why)
        return mending.mend(wardrobe, told.note, told.step, told.node or None, told.why)

    how = ["--by", told.step, "--at", told.node] if told.step else ["--reopen"]
    words = with_reason(["resolve", told.note, *how], told.why)
    yield record_seen(desk, told.version, plan, desk.commands.line(*words))
