"""Walked seams on the page."""

from collections.abc import Iterator, Sequence

from rich.console import RenderableType
from rich.text import Text

from trueup.cli.amounts import band, change, length, standing
from trueup.cli.page import said, said_lines
from trueup.cli.render.table import Cell, PlainTable
from trueup.geometry.measuring.walk import SectionWalk, Walk, walk
from trueup.geometry.pieces.draft import Draft, Run
from trueup.geometry.units import Unit


def walk_lines(
    node: str, draft: Draft, names: Sequence[str], unit: Unit
) -> Iterator[RenderableType]:
    """Yield the named seams with the length of both sides and the ease against what is allowed."""
    if not names:
        yield said(f"{node} has no seams.")
        return
    walked = [walk(draft, draft.seam(name)) for name in names]
    heads = ("seam", "ease", "allowed", "", "walked")
    rows = []
    for each in walked:
        rows += [_row(each, unit), *(_section(part, unit) for part in each.sections)]
    yield PlainTable(heads, rows)


def _row(walked: Walk, unit: Unit) -> tuple[Cell, ...]:
    seam = walked.seam
    verdict = Text(
        standing(seam.allowed, walked.ease, unit), "green" if walked.matches else "bold red"
    )
    sides = said_lines(
        [_side(seam.side, walked.side, unit), f"over {_side(seam.mate, walked.mate, unit)}"]
    )
    return seam.name, change(walked.ease, unit), band(seam.allowed, unit), verdict, sides


def _section(walked: SectionWalk, unit: Unit) -> tuple[Cell, ...]:
    allowed = walked.section.allowed
    verdict = Text(standing(allowed, walked.ease, unit), "green" if walked.matches else "bold red")
    sides = f"{length(walked.side, unit)} over {length(walked.mate, unit)}"
    name = f"  {walked.section.name}"
    return name, change(walked.ease, unit), band(allowed, unit), verdict, sides


def _side(runs: Sequence[Run], mm: float, unit: Unit) -> str:
    return f"{' + '.join(str(run) for run in runs)} {length(mm, unit)}"
