"""Give a step of a chain other amounts."""

from collections.abc import Iterator
from typing import Annotated

import msgspec

from trueup.cli.failures import Misused
from trueup.cli.look.acting import action
from trueup.cli.look.fields.of_chain import amend_form
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.job import Urgency
from trueup.cli.look.owning.line import Line
from trueup.cli.look.recording import record_seen
from trueup.cli.look.trying.step import TriedStep
from trueup.cli.look.trying.trial import tried
from trueup.cli.look.written import Long, NodeAsked, Short, with_option, with_reason
from trueup.cli.options.kinds import option_word
from trueup.lineage.proposal import Proposal
from trueup.lineage.writable import WritableWardrobe

Amended = Annotated[dict[Short, Short | bool | None], msgspec.Meta(max_length=40)]


class AskedAmend(msgspec.Struct, forbid_unknown_fields=True):
    """What shall be otherwise in a step of a node, and the version it was chosen on.

    An option without a value is one that the step shall be without.
    """

    node: Short
    step: Short
    values: Amended
    version: str
    why: Long = ""


class TriedAmend(msgspec.Struct, forbid_unknown_fields=True):
    """What might be otherwise in a step of a node."""

    node: Short
    step: Short
    values: Amended


@action("amend-form", NodeAsked)
def show_amend_form(desk: Desk, told: NodeAsked) -> Iterator[Line]:
    """Yield the fields of the amounts of every step; raises NoSuchNode."""
    yield {"html": str(amend_form(desk, told.node))}


@action("amend-preview", TriedAmend, Urgency.TRIAL)
def try_amend(desk: Desk, told: TriedAmend) -> Iterator[Line]:
    """Yield what would become of every pattern with the step as it might be."""

    def propose(wardrobe: WritableWardrobe) -> Proposal:
        return wardrobe.propose_amend(told.node, told.step, told.values)

    about = ("amend", told.step, tuple(told.values.items()))
    yield from tried(desk, TriedStep(told.node, about, propose, told.step))


@action("amend", AskedAmend, Urgency.STEP)
def amend(desk: Desk, told: AskedAmend) -> Iterator[Line]:
    """Yield which step was recorded; `moved` where the wardrobe is no more as it was shown."""
    if not told.values:
        raise Misused("Say what shall be otherwise: nothing was changed in the fields.")
    words = ["amend", told.node, told.step]
    for name, value in told.values.items():
        if isinstance(value, str):
            words = with_option(words, option_word(name), value)
        else:
            words += [option_word(name)] if value else ["--without", name.replace("_", "-")]
    yield record_seen(
        desk,
        told.version,
        lambda wardrobe: wardrobe.propose_amend(told.node, told.step, told.values, told.why),
        desk.commands.line(*with_reason(words, told.why)),
    )
