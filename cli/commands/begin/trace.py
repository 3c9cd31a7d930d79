"""trueup trace: make a block of an SVG drawing."""

from pathlib import Path
from typing import Annotated

import typer

from trueup.cli.carrying_out.manner import Manner
from trueup.cli.carrying_out.stepping import carry_out
from trueup.cli.failures import BAD_INPUT, Misused
from trueup.cli.json import forms as json_forms
from trueup.cli.json.unnamed import unnamed_form
from trueup.cli.opening import reading
from trueup.cli.options import shared as options
from trueup.cli.page import note, show
from trueup.cli.render.patterns.unnamed import unnamed_table
from trueup.cli.wording.words import worded_error
from trueup.lineage.drawings.tracing.drafting import draft_from
from trueup.lineage.drawings.tracing.errors import CannotTrace, UnnamedLines
from trueup.lineage.limits import LARGEST_DRAWING
from trueup.lineage.store.files.plain_file import NotPlain, read_plain


def trace(
    file: Annotated[
        Path, typer.Argument(metavar="FILE.svg", help="The drawing, its size stated in mm.")
    ],
    node: Annotated[
        str, typer.Argument(metavar="NODE", help="Name of the new block, such as village-block.")
    ],
    names: Annotated[
        list[str] | None,
        typer.Option(
            "--name",
            metavar="ID=PIECE.EDGE",
            help="What the line of this id is, such as path12=front.side; once for each.",
            show_default=False,
        ),
    ] = None,
    only_named: Annotated[
        bool, typer.Option("--only-named", help="Leave out lines that have no name.")
    ] = False,
    preview: options.Preview = False,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """Make a block of an SVG drawing whose lines are named by their ids.

    front.side is an edge, front.side.1 and front.side.2 its parts where a dart parts it,
    front.dart.bust a dart, front.notch.crown a notch, front.grainline the grainline. A file that
    `export` wrote comes back as the same block, with its seams, levels and allowances; lines that
    were redrawn in it are taken as drawn. Lines without a name are listed with what they look like,
    and nothing is recorded until each is named or left out. The drawing is kept beside the block.
    """
    try:
        found = draft_from(_content(file), _names(names or []), file.name, others=only_named)
    except UnnamedLines as error:
        _list(error, folder, as_json=as_json)
        return BAD_INPUT
    code = carry_out(
        Manner(folder, preview, as_json),
        lambda wardrobe: wardrobe.propose_trace(node, found.draft, file.name),
    )
    for each in found.missing:
        note(f"The drawing states {each}.")
    return code


def _content(file: Path) -> bytes:
    try:
        return read_plain(file, LARGEST_DRAWING)
    except NotPlain as reason:
        raise CannotTrace(str(file), str(reason)) from None


def _names(given: list[str]) -> dict[str, str]:
    names: dict[str, str] = {}
    for text in given:
        line, equals, name = text.rpartition("=")
        if not (line and equals and name):
            raise Misused(f'--name "{text}" is not ID=PIECE.EDGE; write it like path12=front.side.')
        if line in names:
            raise Misused(f"--name gives {line} two names; give it one.")
        names[line] = name
    return names


def _list(error: "UnnamedLines", folder: Path | None, *, as_json: bool) -> None:
    """Print the lines that have no name, and say on stderr what to do about them."""
    if as_json:
        json_forms.write(unnamed_form(error.lines))
    else:
        with reading(folder) as wardrobe:
            show(unnamed_table(error.lines, wardrobe.state.unit))
    note(
        f"{worded_error(error)} Name one with --name ID=PIECE.EDGE; --only-named leaves the others "
        "out."
    )
