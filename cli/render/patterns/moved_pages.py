"""Which pages of a sheet are printed anew, on the page."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from rich.console import RenderableType

from trueup.cli.command_line import CommandLine
from trueup.cli.page import command, said
from trueup.cli.sheet.anew.pages import MovedPages
from trueup.cli.sheet.anew.planning import PlannedAnew
from trueup.cli.sheet.cover import spans
from trueup.cli.sheet.facts import SHORT
from trueup.lineage.errors import listed

_MOST_NAMED = 6
"""More pages than this are told by number alone, runs of them drawn together."""


def pages_in_words(found: MovedPages) -> str:
    """Return what is printed anew, as in: pages 7 (B3) and 9 (C3); nothing where no line moved."""
    return _named(found.names)


def print_anew(found: MovedPages) -> str:
    """Return the sentence that says what is printed anew; empty where no line moved."""
    if not found.tiles:
        return ""
    pages = pages_in_words(found)
    if len(found.tiles) > _MOST_NAMED:
        pages = f"pages {spans(found.numbers)} of {found.of}"
    return f"On paper ({found.layout.paper.name.capitalize()}): print {pages} anew."


def _named(names: Sequence[str]) -> str:
    if len(names) < 2:
        return f"page {names[0]}" if names else ""
    return f"pages {', '.join(names[:-1])} and {names[-1]}"


def moved_lines(plan: PlannedAnew, file: Path, commands: CommandLine) -> Iterator[RenderableType]:
    """Yield which pages were written, what they are laid over, and what no longer has its place."""
    found, node = plan.pages, plan.sheet.facts.node
    if found.is_none:
        yield said(
            f"No line of {node} has moved since {_since(plan)}: the sheet you have is as good as a "
            "new one, and nothing was written."
        )
        return
    if found.tiles:
        paper = plan.sheet.paper.name.capitalize()
        yield said(f"Drew {pages_in_words(found)} of {node} on {paper} in {file}.")
        yield said(
            f"They show what moved since {_since(plan)}, the old line dotted. Lay them over the "
            f"pages of the same name in the sheet of that version, which has {found.of}."
        )
    yield from _no_longer_alike(plan)
    if plan.sheet.facts.conflicts:
        yield said(f"{plan.sheet.facts.warning}; every page says so.")
    if found.tiles:
        yield said("Print at 100 % and measure the rule at the foot of each page before you cut.")
    if not plan.alike:
        yield ""
        yield said("After a later correction, name the same version again:")
        since = ("--only-moved", "--since", plan.since.commit[:SHORT])
        yield command(commands.line("sheet", node, f"{node}.pdf", *since))


def _since(plan: PlannedAnew) -> str:
    of = plan.paper_of
    if of.garment:
        return f"version {plan.since}, from which {of.garment} was cut"
    if of.step:
        return f'version {plan.since}, before "{of.step}"'
    return f"version {plan.since}"


def _no_longer_alike(plan: PlannedAnew) -> Iterator[RenderableType]:
    """Yield what of the earlier sheet is of no more use, and which pages it did not have."""
    found = plan.pages
    if found.anew:
        have = "has" if len(found.anew) == 1 else "have"
        yield said(
            f"{listed(found.anew)} {have} no room where the earlier sheet has it: all of it is on "
            f"{_named(found.added)}, and its old pages are of no use any more."
        )
    elif found.added:
        yield said(f"The earlier sheet has no {_named(found.added)}: glue on what is new.")
    if found.gone:
        yield said(f"No longer a piece of it: {listed(found.gone)}; put it away.")
    if not plan.alike:
        yield said(
            "A whole sheet of today is laid out otherwise: these pages go with that of "
            f"{plan.since} only."
        )
