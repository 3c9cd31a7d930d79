"""Walked seams on the page."""

from collections.abc import Iterator, Sequence

from rich.console import RenderableType
from rich.text import Text

from cli.render.amounts import change, length
from cli.render.page import said
from cli.render.table import PlainTable
from geometry.draft import Draft
from geometry.units import Unit
from geometry.walk import Walk, walk


def walk_lines(
    node: str, draft: Draft, names: Sequence[str], unit: Unit
) -> Iterator[RenderableType]:
    """Yield the named seams with the length of both sides and the ease against what is allowed."""
    if not names:
        yield said(f"{node} has no seams.")
        return
    walked = [walk(draft, draft.seam(name)) for name in names]
    heads = ("seam", "side", "mate", "ease", "allowed", "")
    yield PlainTable(heads, [_row(each, unit) for each in walked])


def _row(walked: Walk, unit: Unit) -> tuple[str, str, str, str, str, Text]:
    seam = walked.seam
    low, high = seam.ease_low, seam.ease_high
    allowed = length(low, unit) if low == high else f"{length(low, unit)} to {length(high, unit)}"
    verdict = Text("+ matches", "green") if walked.matches else Text("! outside", "bold red")
    return (
        seam.name,
        f"{' + '.join(str(run) for run in seam.side)} {length(walked.side, unit)}",
        f"{' + '.join(str(run) for run in seam.mate)} {length(walked.mate, unit)}",
        change(walked.ease, unit),
        allowed,
        verdict,
    )
