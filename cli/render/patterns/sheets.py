"""A sheet that was written, and a cut list, on the page."""

from collections.abc import Iterator
from pathlib import Path

from rich.console import RenderableType

from trueup.cli.amounts import area, cloth_area, cloth_length, length
from trueup.cli.command_line import CommandLine
from trueup.cli.page import command, said
from trueup.cli.render.table import PlainTable
from trueup.cli.sheet.cut_list import CutList
from trueup.cli.sheet.document import Composed, Sheet
from trueup.cli.sheet.laying.layout import GAP
from trueup.cli.sheet.photo_frame import PrintedFrame
from trueup.geometry.units import Unit
from trueup.lineage.drawings.photographs.frame.strips import REACH

_USUAL = {Unit.MILLIMETRE: "1400mm", Unit.CENTIMETRE: "140cm", Unit.INCH: "54in"}
"""A width that cloth is often sold in."""


def sheet_lines(sheet: Sheet, found: Composed, file: Path) -> Iterator[RenderableType]:
    """Yield what was written, and what the maker has to look at before cutting."""
    count = len(found.pages)
    pages = "1 page" if count == 1 else f"{count} pages"
    yield said(
        f"Drew {sheet.facts.node} in {file}, {pages} of {found.layout.paper.name.capitalize()}."
    )
    if sheet.facts.conflicts:
        yield said(f"{sheet.facts.warning}; every page says so.")
    yield said("Print it at 100 % and measure the test squares before you cut.")


def frame_lines(found: PrintedFrame, file: Path) -> Iterator[RenderableType]:
    """Yield what was written, and what the maker has to do with it."""
    paper = found.paper.name.capitalize()
    yield said(f"Drew the frame for photographs in {file}, {found.pages} pages of {paper}.")
    yield said(
        f"Print it at 100 %: the squares of a strip reach {REACH / 10:g} cm from end to end. Cut "
        "the strips apart and lay them round the pattern as each page says."
    )


def cut_list_lines(
    node: str, found: CutList, unit: Unit, commands: CommandLine
) -> Iterator[RenderableType]:
    """Yield the pieces with their areas, and the cloth they take."""
    heads = ("piece", "cut", "area of one", "area of all", "allowances")
    rows = [
        (
            piece.name,
            piece.says,
            area(piece.area, unit),
            _both_areas(piece.whole_area, unit),
            piece.allowances,
        )
        for piece in found.pieces
    ]
    yield PlainTable(heads, rows, right=heads[2:4])
    yield said(f"All together {_both_areas(found.whole_area, unit)} of cloth.")
    yield ""
    if found.cloth_width is None:
        yield said("Next, see how much cloth of a width that takes:")
        yield command(commands.line("sheet", node, "--cut-list", "--cloth-width", _USUAL[unit]))
        return
    for each in found.estimates:
        yield said(
            f"About {cloth_length(each.length, unit)} of cloth "
            f"{length(found.cloth_width, unit)} wide, {each.says}."
        )
    if len(found.estimates) == 1:
        yield said(f"It can be laid out only so: {_other(found)}.")
    apart = length(GAP, unit)
    yield said(f"Laid out in plain rows, {apart} apart; add for shrinkage, nap and matching.")


def _other(found: CutList) -> str:
    only = found.estimates[0].layers
    if found.differs:
        return "left and right differ, so it is cut from a single layer"
    return "folded, a piece would be too wide" if only == 1 else "open, a piece would be too wide"


def _both_areas(mm2: float, unit: Unit) -> str:
    return f"{area(mm2, unit)} ({cloth_area(mm2, unit)})"
