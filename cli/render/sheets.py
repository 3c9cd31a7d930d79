"""A sheet that was written, and a cut list, on the page."""

from collections.abc import Iterator
from pathlib import Path

from rich.console import RenderableType

from trueup.cli.amounts import length
from trueup.cli.command_line import CommandLine
from trueup.cli.page import command, said
from trueup.cli.render.table import PlainTable
from trueup.cli.sheet.cut_list import CutList
from trueup.cli.sheet.document import Composed, Sheet
from trueup.geometry.units import Unit


def sheet_lines(sheet: Sheet, found: Composed, file: Path) -> Iterator[RenderableType]:
    """Yield what was written, and what the maker has to look at before cutting."""
    count = len(found.pages)
    pages = "1 page" if count == 1 else f"{count} pages"
    yield said(f"Drew {sheet.facts.node} in {file}, {pages} of {found.layout.paper.name}.")
    if sheet.facts.conflicts:
        yield said(f"{sheet.facts.warning}; every page says so.")
    yield said("Print it at 100 % and measure the test squares before you cut.")


def cut_list_lines(
    node: str, found: CutList, unit: Unit, commands: CommandLine
) -> Iterator[RenderableType]:
    """Yield the pieces with their areas, and the cloth they take."""
    heads = ("piece", "cut", "area of one", "area of all", "allowances")
    rows = [
        (piece.name, piece.says, _cm2(piece.area), _area(piece.whole_area), piece.allowances)
        for piece in found.pieces
    ]
    yield PlainTable(heads, rows, right=heads[2:4])
    yield said(f"All together {_area(found.whole_area)} of cloth.")
    yield ""
    if found.cloth_width is None:
        yield said("Next, see how much cloth of a width that takes:")
        yield command(commands.line("sheet", node, "--cut-list", "--cloth-width", "140cm"))
        return
    for each in found.estimates:
        yield said(
            f"About {length(each.length, unit)} of cloth {length(found.cloth_width, unit)} wide, "
            f"{each.says}."
        )
    if len(found.estimates) == 1:
        yield said(f"It can be laid out only so: {_other(found)}.")
    yield said("Laid out in plain rows, 1 cm apart; add for shrinkage, nap and matching.")


def _other(found: CutList) -> str:
    only = found.estimates[0].layers
    return "folded, a piece would be too wide" if only == 1 else "open, a piece would be too wide"


def _cm2(area: float) -> str:
    return f"{area / 100:.0f} cm²"


def _area(area: float) -> str:
    return f"{_cm2(area)} ({area / 1e6:.2f} m²)"
