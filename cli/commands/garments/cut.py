"""trueup cut: record that cloth was cut from a pattern."""

import datetime
from typing import Annotated

import typer

from trueup.cli.carrying_out.filing import file_step
from trueup.cli.command_line import CommandLine
from trueup.cli.json import forms as json_forms
from trueup.cli.json import garments as json_garments
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.cli.page import note, show
from trueup.cli.render.garments.garment import cut_lines
from trueup.lineage.garments import cutting
from trueup.lineage.garments.filing import Filing
from trueup.lineage.writable import WritableWardrobe


def cut(
    pattern: Annotated[
        str,
        typer.Argument(
            metavar="PATTERN",
            help="The pattern, or the block, that the cloth was cut from.",
            autocompletion=completion.nodes,
        ),
    ],
    name: Annotated[
        str,
        typer.Option(
            "--name",
            metavar="NAME",
            help="Name of the garment; the pattern's with a number unless given.",
            show_default=False,
        ),
    ] = "",
    fabric: Annotated[
        str, typer.Option("--fabric", metavar="TEXT", help="The cloth.", show_default=False)
    ] = "",
    wearer: Annotated[
        str, typer.Option("--wearer", metavar="TEXT", help="Who wears it.", show_default=False)
    ] = "",
    date: options.Date = None,
    stitched_down: Annotated[
        list[str] | None,
        typer.Option(
            "--stitched-down",
            metavar="PIECE.EDGE",
            help="An edge that cannot be opened any more: bound, faced, topstitched. Once for "
            "each.",
            show_default=False,
            autocompletion=completion.edges_of("pattern"),
        ),
    ] = None,
    as_of: Annotated[
        str | None,
        typer.Option(
            "--as-of",
            metavar="VERSION",
            help="It was cut from this earlier version, as `history` names it.",
            show_default=False,
        ),
    ] = None,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> None:
    """Record a garment: cloth cut from one exact version of a pattern.

    The outline it was cut by is kept beside it, with its seam and hem allowances, so that a later
    correction can be held against the cloth that exists.
    """
    told = cutting.Cutting(pattern, name, fabric, wearer, date, stitched_down or (), as_of)
    waiting: list[str] = []

    def plan(wardrobe: WritableWardrobe) -> Filing:
        filing = cutting.cut(wardrobe, told, datetime.date.today())
        waiting[:] = [each.id for each in cutting.open_conflicts(wardrobe, told)]
        return filing

    filing, commit, state = file_step(folder, plan)
    if waiting:
        note(
            f"{pattern} has conflicts that wait for a decision ({', '.join(waiting)}); the cloth "
            "is recorded as it was cut all the same."
        )
    if as_json:
        json_forms.write(json_garments.filed(filing, commit))
    else:
        show(*cut_lines(filing.garment, commit, state.unit, CommandLine(folder)))
