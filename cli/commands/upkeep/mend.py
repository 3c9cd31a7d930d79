"""trueup mend: join the work of another maker."""

from typing import Annotated

import typer

from trueup.cli.carrying_out.joining import join_wardrobe
from trueup.cli.carrying_out.manner import Manner
from trueup.cli.options import shared as options


def mend(
    other: Annotated[
        str | None,
        typer.Argument(
            metavar="COPY|VERSION",
            help="The folder of another copy of the wardrobe, or a branch or version that git "
            "has; what git fetched last, or what it began to join, unless given.",
            show_default=False,
        ),
    ] = None,
    preview: options.Preview = False,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> None:
    """Join the work of another maker, as one step that loses no change of either.

    Name the folder of the other maker's copy of this wardrobe. Changes are joined one by one: the
    same correction made by both is kept once; where the two contradict, both ways wait in a
    conflict for `decide`.

    Who shares a wardrobe by git names nothing, after `git fetch`, after a `git pull` that stopped
    at a conflict, and after one that did not: git joins lines of text, and does not see that a seam
    no longer walks.
    """
    join_wardrobe(Manner(folder, preview, as_json), other)
