"""trueup drop: take a step out of a chain."""

from typing import Annotated

import typer

from trueup.cli.carrying_out.manner import Manner
from trueup.cli.carrying_out.stepping import carry_out
from trueup.cli.options import completion
from trueup.cli.options import shared as options


def drop(
    node: options.Node,
    step: Annotated[
        str,
        typer.Argument(
            metavar="STEP",
            help="Id of the step, as `history PATTERN` lists it.",
            autocompletion=completion.steps,
        ),
    ],
    why: options.Why = "",
    preview: options.Preview = False,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """Take a step out; what comes after it is done again without it."""
    return carry_out(
        Manner(folder, preview, as_json),
        lambda wardrobe: wardrobe.propose_drop(node, step, why),
    )
