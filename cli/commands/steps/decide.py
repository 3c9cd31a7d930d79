"""trueup decide: settle a conflict by one of its remedies."""

from typing import Annotated

import typer

from trueup.cli.carrying_out.manner import Manner
from trueup.cli.carrying_out.stepping import carry_out
from trueup.cli.options import completion
from trueup.cli.options import shared as options


def decide(
    conflict: Annotated[
        str,
        typer.Argument(
            metavar="CONFLICT",
            help="Id of the conflict, as `conflicts` lists it, or of what `check` found.",
            autocompletion=completion.conflicts,
        ),
    ],
    remedy: Annotated[
        str,
        typer.Argument(
            metavar="REMEDY",
            help="Name of one of its remedies, such as refit-cap, hold or accept.",
            autocompletion=completion.remedies,
        ),
    ],
    why: options.Why = "",
    preview: options.Preview = False,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """Settle a conflict, or anything `check` finds, by one of its remedies.

    An acceptance holds as far as the accepted amount: when a later correction makes it worse, the
    conflict opens again, and once it is back at that amount, or better, it is accepted again.
    """
    return carry_out(
        Manner(folder, preview, as_json),
        lambda wardrobe: wardrobe.propose_decision(conflict, remedy, why),
    )
