"""trueup start: begin a wardrobe in a new or empty folder."""

from pathlib import Path
from typing import Annotated

import typer

from trueup.cli.command_line import CommandLine
from trueup.cli.options import completion
from trueup.cli.page import command, said, show
from trueup.geometry import said as facts
from trueup.geometry.errors import BadParameter
from trueup.geometry.units import Unit
from trueup.lineage.writable import WritableWardrobe

_BODIES = {
    "mm": "--bust 880mm --waist 680mm --back-length 410mm --sleeve-length 580mm",
    "cm": "--bust 88cm --waist 68cm --back-length 41cm --sleeve-length 58cm",
    "in": "--bust 34.5in --waist 27in --back-length 16in --sleeve-length 23in",
}
"""A body as a maker of each unit would give it."""


def start(
    directory: Annotated[
        Path, typer.Argument(metavar="FOLDER", help="The new or empty folder it is kept in.")
    ],
    name: Annotated[
        str,
        typer.Option(
            "--name",
            metavar="NAME",
            help="What it is called; the folder's name unless given.",
            show_default=False,
        ),
    ] = "",
    unit: Annotated[
        str,
        typer.Option(
            "--unit",
            metavar="mm|cm|in",
            help="The unit a bare number takes and amounts are shown in.",
            autocompletion=completion.words(("mm", "cm", "in")),
        ),
    ] = "cm",
) -> None:
    """Start a wardrobe in a new or empty folder.

    A wardrobe is a plain folder of text files with its history kept by git.
    """
    if unit not in {each.value for each in Unit}:
        raise BadParameter("unit", unit, facts.said("is-a-unit"))
    called = name or directory.absolute().name
    with WritableWardrobe.start(directory, called, unit) as wardrobe:
        words = ["draft", "BLOCK", "--system", "bust-proportion", *_BODIES[unit].split()]
        show(
            said(f"Started the wardrobe {wardrobe.state.settings.name} in {directory}.", "bold"),
            said("Next, draft a block from body measurements, for example:"),
            command(CommandLine(directory).line(*words)),
        )
