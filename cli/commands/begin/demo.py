"""trueup demo: play the sample wardrobe, correct its block and settle a conflict."""

from pathlib import Path
from typing import Annotated

import typer

from trueup.cli.commands.reading.check import check
from trueup.cli.demo.telling import tell, tell_garments


def demo(
    directory: Annotated[
        Path, typer.Argument(metavar="FOLDER", help="The new or empty folder it is played into.")
    ] = Path("theatre-store"),
    garments: Annotated[
        bool,
        typer.Option("--garments", help="Play garments of every sort instead, to explore."),
    ] = False,
) -> int:
    """Play a sample wardrobe into a folder and show what a correction does to it.

    The costume store of a village theatre: its history is played step by step, one block is
    corrected, what became of the correction in every pattern is told, and one conflict is settled.
    The folder is left to explore.

    With `--garments` it is another wardrobe, of garments of every sort from coat to trousers, in
    which every kind of change is used; nothing is corrected in it yet.
    """
    if garments:
        return tell_garments(directory)
    return tell(directory, lambda node, folder: check(node, folder=folder))
