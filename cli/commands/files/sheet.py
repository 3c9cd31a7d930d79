"""trueup sheet: a pattern on paper at true scale, and its cut list."""

from pathlib import Path
from typing import Annotated

import typer

from trueup.cli.atomic_file import write_new
from trueup.cli.failures import Misused
from trueup.cli.json import forms as json_forms
from trueup.cli.json.patterns import sheet as json_sheet
from trueup.cli.opening import reading
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.cli.page import note, show
from trueup.cli.render.patterns.moved_pages import moved_lines
from trueup.cli.render.patterns.not_drawn import not_drawn
from trueup.cli.render.patterns.sheets import cut_list_lines, frame_lines, sheet_lines
from trueup.cli.sheet.anew.pages import drawn_anew
from trueup.cli.sheet.anew.planning import planned_anew
from trueup.cli.sheet.cut_list import cut_list
from trueup.cli.sheet.document import composed, written
from trueup.cli.sheet.ink.letters import lacking
from trueup.cli.sheet.photo_frame import framed
from trueup.cli.sheet.planning import planned
from trueup.cli.sheet.wanted import Wanted
from trueup.geometry.units import parse_length


def sheet(
    node: Annotated[
        str | None,
        typer.Argument(
            metavar="PATTERN",
            help="Name of a block or pattern.",
            show_default=False,
            autocompletion=completion.nodes,
        ),
    ] = None,
    file: Annotated[
        Path | None,
        typer.Argument(metavar="FILE.pdf", help="The file to write.", show_default=False),
    ] = None,
    paper: Annotated[
        str | None,
        typer.Option(
            "--paper",
            metavar="PAPER",
            help="a4, letter or a3, the pieces spread over as many pages as it takes; a0, or the "
            "width of a roll, as in 91.4cm, each piece whole on one page; a4 unless given.",
            show_default=False,
        ),
    ] = None,
    lines: Annotated[
        str | None,
        typer.Option(
            "--lines",
            metavar="LINES",
            help="Which lines to print, of seam, cutting and changes, with commas between; seam "
            "and cutting unless given, with --since all three.",
            show_default=False,
        ),
    ] = None,
    since: Annotated[
        str | None,
        typer.Option(
            "--since",
            metavar="VERSION",
            help="Hatch what moved since this version, as `history` names it.",
            show_default=False,
        ),
    ] = None,
    only_moved: Annotated[
        bool,
        typer.Option(
            "--only-moved",
            help="Print only the pages on which a line moved, to be laid over those of the sheet "
            "you have, the old line dotted. That is of --since; else of the version a garment was "
            "cut from last, or of that before the last step that moved a line.",
        ),
    ] = False,
    fabric: Annotated[
        str | None,
        typer.Option("--fabric", metavar="TEXT", help="The cloth.", show_default=False),
    ] = None,
    cut_list: Annotated[
        bool,
        typer.Option("--cut-list", help="Print the pieces and their areas instead of a file."),
    ] = False,
    cloth_width: Annotated[
        str | None,
        typer.Option(
            "--cloth-width",
            metavar="LENGTH",
            help="With --cut-list: how much cloth of this width it takes.",
            show_default=False,
        ),
    ] = None,
    frame: Annotated[
        bool,
        typer.Option(
            "--frame",
            help="Print the frame that is laid round card or paper to photograph it for `trace`; "
            "needs no PATTERN.",
        ),
    ] = False,
    sizes: Annotated[
        bool,
        typer.Option("--sizes", help="Print all its sizes, made by `sizes`, over each other."),
    ] = False,
    force: options.Force = False,
    as_of: options.AsOf = None,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> None:
    """Print a block or pattern at true scale as PDF, with a cover and test squares.

    Lines that are sewn together carry the same letter, which the cover explains; fold, grain,
    centres, levels and hems are named, and where a hem is turned its cut edge is dotted as it then
    lies. On a4, letter and a3, neighbouring pages overlap and carry numbered crosses, and the cover
    has a map of them. Every page says which version it shows and whether conflicts are open, and
    has a rule of 5 cm to measure. After a correction, --only-moved prints just the pages on which a
    line moved; they are called as in the sheet you have. With --frame, print strips of square
    markers instead, by which `trace` measures a photograph.
    """
    if frame:
        others = (lines, since, fabric, cloth_width, as_of)
        if cut_list or sizes or only_moved or any(each is not None for each in others):
            raise Misused("--frame goes with the file, --paper and --force alone.")
        _print_frame(_only_file(node, file), paper or "a4", force, as_json)
        return
    if node is None:
        raise Misused(
            "Name the block or pattern to print, or ask for --frame to photograph one on paper."
        )
    if cut_list:
        given = (file, paper, lines, since, fabric)
        if force or sizes or only_moved or any(each is not None for each in given):
            raise Misused(
                "--cut-list prints a list and draws no sheet; leave it out, or leave out the file "
                "and --paper, --lines, --since, --only-moved, --fabric, --sizes and --force."
            )
        _list(node, cloth_width, as_of, as_json, folder)
        return
    if cloth_width is not None:
        raise Misused("--cloth-width belongs to --cut-list; add that, or leave it out.")
    if file is None:
        raise Misused(f"Name the file to write, as in {node}.pdf, or ask for --cut-list.")
    _require_pdf(file)
    if sizes and (since is not None or only_moved):
        asked = "--only-moved prints" if only_moved else "--since hatches"
        raise Misused(f"{asked} what moved in one size; leave it out, or --sizes.")
    wanted = Wanted(node, paper or "a4", lines, since, fabric or "", as_of, sizes, only_moved)
    if only_moved:
        _print_moved(wanted, file, force, as_json, folder)
    else:
        _print(wanted, file, force, as_json, folder)


def _require_pdf(file: Path) -> None:
    if file.suffix.lower() != ".pdf":
        raise Misused(f"{file} is not named as a PDF file; call it {file.stem or 'NAME'}.pdf.")


def _only_file(first: str | None, second: Path | None) -> Path:
    """Return the one file that is named where no node is."""
    if first is None or second is not None:
        raise Misused("Name the file to write and nothing else, as in --frame frame.pdf.")
    return Path(first)


def _print_frame(file: Path, paper: str, force: bool, as_json: bool) -> None:
    _require_pdf(file)
    found = framed(paper)
    write_new(file, found.content, replace=force)
    if as_json:
        json_forms.write(json_sheet.frame(found, file))
    else:
        show(*frame_lines(found, file))


def _print(wanted: Wanted, file: Path, force: bool, as_json: bool, folder: Path | None) -> None:
    with reading(folder, wanted.as_of, as_json=as_json) as open_wardrobe:
        plan = planned(open_wardrobe.wardrobe, open_wardrobe.evaluator, wanted)
        pages = composed(plan)
        lost = not_drawn(open_wardrobe.evaluator.draft(wanted.node))
    write_new(file, written(plan.facts, pages.pages), replace=force)
    if missing := lacking(plan.facts.fabric):
        note(f"The typeface of the sheet lacks {missing}; a question mark stands for it.")
    if lost:
        note(lost)
    if as_json:
        open_wardrobe.write(json_sheet.sheet(plan, pages, file))
    else:
        show(*sheet_lines(plan, pages, file))


def _print_moved(
    wanted: Wanted, file: Path, force: bool, as_json: bool, folder: Path | None
) -> None:
    with reading(folder, wanted.as_of, as_json=as_json) as open_wardrobe:
        plan = planned_anew(open_wardrobe.wardrobe, open_wardrobe.evaluator, wanted)
        pages = drawn_anew(plan.pages, plan.sheet)
    if pages:
        content = written(plan.sheet.facts, pages, plan.pages.of + len(plan.pages.layout.added))
        write_new(file, content, replace=force)
    if as_json:
        open_wardrobe.write(json_sheet.moved_pages(plan, pages, file))
    else:
        show(*moved_lines(plan, file, open_wardrobe.commands))


def _list(
    node: str, cloth_width: str | None, as_of: str | None, as_json: bool, folder: Path | None
) -> None:
    with reading(folder, as_of, as_json=as_json) as wardrobe:
        wardrobe.state.node(node)
        unit, commands = wardrobe.state.unit, wardrobe.commands
        width = None if cloth_width is None else parse_length(cloth_width, unit)
        found = cut_list(wardrobe.evaluator.draft(node), width)
    if as_json:
        wardrobe.write(json_sheet.cut_list(node, found))
    else:
        show(*cut_list_lines(node, found, unit, commands))
