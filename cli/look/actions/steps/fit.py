"""From what was pinned on a garment to corrections, tried and made together as one step."""

from collections.abc import Iterator
from typing import Annotated

import msgspec

from trueup.cli.book.lines import html_lines
from trueup.cli.book.templating import page
from trueup.cli.look.acting import action
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.job import Urgency
from trueup.cli.look.owning.line import Line
from trueup.cli.look.recording import record_seen
from trueup.cli.look.trying.became import TEMPLATES
from trueup.cli.look.trying.lines import told_draft
from trueup.cli.look.trying.step import TriedStep
from trueup.cli.look.trying.trial import tried
from trueup.cli.look.written import Long, NodeAsked, Short, with_option, with_reason
from trueup.cli.render.garments.fit import correction_lines
from trueup.lineage.diagnosis.fit_from import Fit, fit_from
from trueup.lineage.diagnosis.pinned import How, Pin
from trueup.lineage.files import graph
from trueup.lineage.files.fitting import read_fitting
from trueup.lineage.files.records import Role
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.proposal import Proposal
from trueup.lineage.writable import WritableWardrobe

_WORDS = {How.PINNED: "pinned in", How.LET_OUT: "let out", How.CHALKED: "chalked inside the line"}


class FoundOnGarment(msgspec.Struct, forbid_unknown_fields=True, frozen=True):
    """One amount found on a garment: how, at which place, and where along it."""

    how: How
    place: Short
    amount: Short
    at: Short = ""

    @property
    def written(self) -> str:
        """Return it as the command is told it."""
        return f"{self.place}={self.amount}{f'@{self.at}' if self.at else ''}"


Found = Annotated[list[FoundOnGarment], msgspec.Meta(max_length=40)]


class TriedFit(msgspec.Struct, forbid_unknown_fields=True, frozen=True):
    """What was found on a garment of a node, and the node that is to be corrected."""

    node: Short
    pins: Found
    on: Short = ""
    why: Long = ""


class AskedFit(TriedFit, forbid_unknown_fields=True, frozen=True, kw_only=True):
    """The same to be made, on the version it was tried on."""

    version: str


@action("fit-form", NodeAsked)
def show_fit_form(desk: Desk, told: NodeAsked) -> Iterator[Line]:
    """Yield the fields of what was found; raises NoSuchNode."""
    draft, state = told_draft(desk, told.node), desk.wardrobe.state
    above = graph.fit_above(state.nodes, told.node)
    html = page(
        "fit_form.html",
        TEMPLATES,
        ways=[(how.value, words) for how, words in _WORDS.items()],
        places=[*draft.edge_names, *draft.dart_names, *(seam.name for seam in draft.seams)],
        nodes=[told.node, *(each for each in state.in_order if each in above)],
        unit=desk.source.unit.value,
    )
    yield {"html": str(html)}


@action("fit-preview", TriedFit, Urgency.TRIAL)
def try_fit(desk: Desk, told: TriedFit) -> Iterator[Line]:
    """Yield the corrections, the fitting as a file, and what would become of every pattern."""
    fit = _fit(desk.wardrobe, told)
    lines = correction_lines(fit, desk.source.unit, None)
    html = html_lines(lines, desk.source.addresses)
    desk.say({"says": str(html), "file": {"name": _file(told), "text": fit.text}})
    step = TriedStep(fit.node, ("fitting", fit.text), lambda wardrobe: _proposed(wardrobe, fit))
    yield from tried(desk, step)


@action("fit", AskedFit, Urgency.STEP)
def make_fit(desk: Desk, told: AskedFit) -> Iterator[Line]:
    """Yield which step was recorded; `moved` where the wardrobe is no more as it was tried on."""
    words = ["fit-from", told.node]
    for pin in _in_order(told):
        words = with_option(words, f"--{pin.how.value}", pin.written)
    words = with_reason(with_option(words, "--on", told.on), told.why)
    commands, file = desk.commands, _file(told)
    yield record_seen(
        desk,
        told.version,
        lambda wardrobe: _proposed(wardrobe, _fit(wardrobe, told)),
        "\n".join(
            (
                commands.line(*words, "--write", file),
                commands.line("correct", told.on or told.node, "--from", file),
            )
        ),
    )


def _in_order(told: TriedFit) -> list[FoundOnGarment]:
    """Return what was found as the command takes it: all that was pinned first."""
    return sorted(told.pins, key=lambda pin: list(How).index(pin.how))


def _fit(wardrobe: OpenWardrobe, told: TriedFit) -> Fit:
    unit = wardrobe.state.unit
    pins = [Pin.read(pin.how, pin.written, unit) for pin in _in_order(told)]
    return fit_from(wardrobe.evaluator, told.node, pins, told.on or None, told.why)


def _proposed(wardrobe: WritableWardrobe, fit: Fit) -> Proposal:
    body = wardrobe.evaluator.body(fit.node)
    read = read_fitting(fit.node, fit.text.encode(), wardrobe.state.unit, body)
    return wardrobe.propose_steps(fit.node, read.changes, Role.CORRECTION, read.why)


def _file(told: TriedFit) -> str:
    return f"{told.node}-fitting.toml"
