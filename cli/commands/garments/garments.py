"""trueup garments: what was cut, and what is noted on it."""

from typing import Annotated

import typer

from trueup.cli.opening import reading
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.cli.page import show
from trueup.cli.render.garments.garment import garment_list
from trueup.lineage.garments.whose import garments_of


def garments(
    pattern: Annotated[
        str | None,
        typer.Argument(
            metavar="PATTERN",
            help="Only those cut from this pattern; all unless given.",
            autocompletion=completion.nodes,
        ),
    ] = None,
    wearer: Annotated[
        str,
        typer.Option(
            "--wearer",
            metavar="TEXT",
            help="Only those cut for, or worn by, this person.",
            show_default=False,
        ),
    ] = "",
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """List the garments that were cut, how far each has come, and its open fit notes.

    Exits with 3 when a garment or a pattern cannot be read; the others are listed.
    """
    with reading(folder, as_json=as_json) as wardrobe:
        found = garments_of(wardrobe.state, pattern, wearer)
        state, commands = wardrobe.state, wardrobe.commands
    if as_json:
        from trueup.cli.json import garments as json_garments  # noqa: PLC0415

        wardrobe.write(json_garments.garments(found, state))
    else:
        show(*garment_list(found, state, commands))
    return wardrobe.code_of_whole()
