"""trueup graft: the style of one pattern on another block."""

from typing import Annotated

import typer

from trueup.cli.carrying_out.manner import Manner
from trueup.cli.carrying_out.stepping import carry_out
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.lineage.files.records import ParentRecord


def graft(
    pattern: Annotated[
        str,
        typer.Argument(
            metavar="PATTERN",
            help="The pattern whose style it takes.",
            autocompletion=completion.nodes,
        ),
    ],
    onto: Annotated[
        str,
        typer.Option(
            "--onto",
            metavar="BLOCK",
            help="The block, or pattern, that its fit comes from.",
            autocompletion=completion.nodes,
        ),
    ],
    name: Annotated[
        str, typer.Option("--as", metavar="NAME", help="Name of the pattern that is made.")
    ],
    why: options.Why = "",
    preview: options.Preview = False,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """Make the style of a pattern again on the block of another body.

    All steps made for looks, from the pattern's block down to it, are made on the other block in
    their order; corrections and decisions stay behind, for the fit comes from there. It follows
    both: a later change of the style, and a later correction of the block. What does not fit the
    other body is a conflict with remedies. `trueup graft blouse --onto ada --as adas-blouse` makes
    one.
    """
    return carry_out(
        Manner(folder, preview, as_json),
        lambda wardrobe: wardrobe.propose_graft(pattern, ParentRecord(onto), name, why),
    )
