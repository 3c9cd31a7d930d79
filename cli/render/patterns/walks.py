"""Walked seams on the page."""

from collections.abc import Iterator, Sequence

from rich.console import RenderableType
from rich.text import Text

from trueup.cli.amounts import change, length
from trueup.cli.page import said, said_lines
from trueup.cli.render.table import Cell, PlainTable
from trueup.geometry.measuring.walk import Walk, walk
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
    yield PlainTable(heads, [_row(each, unit) for each in walked])


def _row(walked: Walk, unit: Unit) -> tuple[Cell, ...]:
    seam = walked.seam
    low, high = seam.ease_low, seam.ease_high
    allowed = length(low, unit) if low == high else f"{length(low, unit)} to {length(high, unit)}"
    verdict = Text("+ matches", "green") if walked.matches else Text("! outside", "bold red")
    sides = said_lines(
        [_side(seam.side, walked.side, unit), f"over {_side(seam.mate, walked.mate, unit)}"]
    )
    return seam.name, change(walked.ease, unit), allowed, verdict, sides


def _side(runs: Sequence[Run], mm: float, unit: Unit) -> str:
    return f"{' + '.join(str(run) for run in runs)} {length(mm, unit)}"
