"""Take a step out of a chain."""

from collections.abc import Iterator

import msgspec

from trueup.cli.look.acting import action
from trueup.cli.look.fields.of_chain import drop_form
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.job import Urgency
from trueup.cli.look.owning.line import Line
from trueup.cli.look.recording import record_seen
from trueup.cli.look.trying.step import TriedStep
from trueup.cli.look.trying.trial import tried
from trueup.cli.look.written import Long, NodeAsked, Short, with_reason
from trueup.lineage.proposal import Proposal
from trueup.lineage.writable import WritableWardrobe


class AskedDrop(msgspec.Struct, forbid_unknown_fields=True):
    """A step of a node and why it goes, and the version it was chosen on."""

    node: Short
    step: Short
    version: str
    why: Long = ""


@action("drop-form", NodeAsked)
def show_drop_form(desk: Desk, told: NodeAsked) -> Iterator[Line]:
    """Yield the fields that name a step; raises NoSuchNode."""
    yield {"html": str(drop_form(desk, told.node))}


class TriedDrop(msgspec.Struct, forbid_unknown_fields=True):
    """A step of a node that might go."""

    node: Short
    step: Short


@action("drop-preview", TriedDrop, Urgency.TRIAL)
def try_drop(desk: Desk, told: TriedDrop) -> Iterator[Line]:
    """Yield what would become of every pattern without it."""

    def propose(wardrobe: WritableWardrobe) -> Proposal:
        return wardrobe.propose_drop(told.node, told.step)

    yield from tried(desk, TriedStep(told.node, ("drop", told.step), propose, told.step))


@action("drop", AskedDrop, Urgency.STEP)
def drop(desk: Desk, told: AskedDrop) -> Iterator[Line]:
    """Yield which step was recorded; `moved` where the wardrobe is no more as it was shown."""
    yield record_seen(
        desk,
        told.version,
        lambda wardrobe: wardrobe.propose_drop(told.node, told.step, told.why),
        desk.commands.line(*with_reason(["drop", told.node, told.step], told.why)),
    )
