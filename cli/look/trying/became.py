"""What becomes of a tried correction, as HTML: in one pattern below, and at its own node."""

from collections.abc import Callable
from pathlib import Path

from markupsafe import Markup

from trueup.cli.book.figures import figure
from trueup.cli.book.lines import html_lines
from trueup.cli.book.pages.arrived import arrived_of
from trueup.cli.book.source import BookSource
from trueup.cli.book.templating import page
from trueup.cli.drawing.small_overlay import small_overlay
from trueup.cli.render.replay import measure_table, remarks, unstated, urgency, verdict_word
from trueup.cli.wording.words import worded
from trueup.geometry.comparing.alignment import alignment
from trueup.geometry.comparing.comparison import compare
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.proposal import Proposal
from trueup.lineage.replay.replay import PatternReplay

TEMPLATES = Path(__file__).parents[1] / "templates"


def row(source: BookSource, outcome: PatternReplay) -> Markup:
    """Return what became of a correction in a pattern."""
    arrived, more = arrived_of(outcome.measures, source.unit)
    garments = source.state.garments.values()
    return page(
        "row.html",
        TEMPLATES,
        verdict=verdict_word(outcome.verdict).plain,
        arrived=arrived,
        more=more,
        remarks=list(remarks(outcome)),
        conflicts=outcome.conflicts,
        inherits=outcome.inherits,
        garments=[each.name for each in garments if each.pattern == outcome.name],
        addresses=source.addresses,
        unit=source.unit,
    )


def rank(outcome: PatternReplay) -> int:
    """Return where a pattern stands among others: the most urgent is least."""
    calm, verdict, alone = urgency(outcome)
    return (calm * 100) + (verdict * 2) + alone


def own(source: BookSource, proposal: Proposal) -> Markup:
    """Return what a correction does at its own node."""
    found = proposal.replay
    return page(
        "own.html",
        TEMPLATES,
        measures=html_lines([measure_table(found.measures, source.unit)], source.addresses)
        if found.measures
        else "",
        conflicts=found.conflicts,
        beyond=[worded(each.says, source.unit) for each in proposal.beyond],
        unchecked=f"Not checked: {unstated(found.unchecked)}." if found.unchecked else "",
        settled=found.settled,
        addresses=source.addresses,
        unit=source.unit,
    )


def picture(name: str, old: Draft, new: Draft, number: Callable[[], int]) -> str:
    """Return a small picture of what moves; nothing where nothing does."""
    found = compare(old, new, alignment("centre", old, new))
    if found.is_same:
        return ""
    return str(figure(small_overlay(found, f"What moves in {name}"), number()))
