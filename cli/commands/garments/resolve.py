"""trueup resolve: a fit note was mended by a correction."""

from typing import Annotated

import typer

from trueup.cli.carrying_out.filing import file_step
from trueup.cli.failures import Misused
from trueup.cli.json import forms as json_forms
from trueup.cli.json import garments as json_garments
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.cli.page import show
from trueup.cli.render.garments.garment import filed_lines
from trueup.lineage.garments import mending
from trueup.lineage.garments.filing import Filing
from trueup.lineage.writable import WritableWardrobe


def resolve(
    note: Annotated[
        str,
        typer.Argument(
            metavar="NOTE",
            help="Id of the fit note, as `garment` lists it.",
            autocompletion=completion.notes,
        ),
    ],
    step: Annotated[
        str | None,
        typer.Option(
            "--by",
            metavar="STEP",
            help="Id of the correction that mended it, as `history` lists it.",
            show_default=False,
            autocompletion=completion.corrections,
        ),
    ] = None,
    node: Annotated[
        str | None,
        typer.Option(
            "--at",
            metavar="PATTERN",
            help="The block or pattern that was corrected; found by the step unless given.",
            show_default=False,
            autocompletion=completion.nodes,
        ),
    ] = None,
    reopen: Annotated[
        bool, typer.Option("--reopen", help="It was not mended after all; take that back.")
    ] = False,
    why: options.Why = "",
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> None:
    """Mark a fit note as mended by a correction of its pattern, or of what that derives from."""
    if reopen == (step is not None) or (reopen and node is not None):
        raise Misused(f"Say which correction mended {note} with --by STEP, or --reopen it.")

    def plan(wardrobe: WritableWardrobe) -> Filing:
        if step is None:
            return mending.reopen(wardrobe, note, why)
        return mending.mend(wardrobe, note, step, node, why)

    filing, commit, _ = file_step(folder, plan)
    if as_json:
        json_forms.write(json_garments.filed(filing, commit))
    else:
        show(*filed_lines(filing, commit))
