"""trueup amend: change the amounts of a step in a chain."""

import inspect
from typing import Annotated, Any

import typer

from trueup.cli.carrying_out.manner import Manner
from trueup.cli.carrying_out.stepping import carry_out
from trueup.cli.failures import Misused
from trueup.cli.options import completion
from trueup.cli.options import kinds as kind_options
from trueup.cli.options import shared as options
from trueup.cli.options.made import as_command, keyword, positional

_STEP = Annotated[
    str,
    typer.Argument(
        metavar="STEP",
        help="Id of the step, as `history PATTERN` lists it.",
        autocompletion=completion.steps,
    ),
]
_WITHOUT = Annotated[
    list[str] | None,
    typer.Option(
        "--without",
        metavar="OPTION",
        help="An option the step was made with and shall be without, such as to.",
        show_default=False,
    ),
]


def amend() -> None:
    """Change the amounts of a step that was made; what comes after it is done again.

    The step keeps its place and its id. Give only the options that shall be otherwise, as the
    step's kind has them; `trueup correct PATTERN KIND --help` explains those of a kind. One that
    takes nothing, such as --fold, is taken back by --no-fold. Every pattern below follows, as after
    a correction.
    """


def verb() -> Any:
    """Return the verb with the options of all kinds of change."""
    return as_command(_run, "amend", amend.__doc__ or "", _parameters())


def _parameters() -> list[inspect.Parameter]:
    return [
        positional("node", options.Node),
        positional("step", _STEP),
        *kind_options.of_any_kind(),
        keyword("without", _WITHOUT),
        keyword("why", options.Why, ""),
        keyword("preview", options.Preview, False),
        keyword("as_json", options.Json, False),
        keyword("folder", options.Folder),
    ]


def _run(
    ctx: Any,  # noqa: ARG001
    node: str,
    step: str,
    without: list[str] | None,
    why: str,
    preview: bool,
    as_json: bool,
    folder: Any,
    **given: Any,
) -> int:
    left_out = {word.lstrip("-").replace("-", "_"): None for word in without or ()}
    values = {**kind_options.given_values(given), **left_out}
    if not values:
        raise Misused(
            "Say what shall be otherwise, as in --by 15mm; `trueup amend --help` lists the options."
        )
    return carry_out(
        Manner(folder, preview, as_json),
        lambda wardrobe: wardrobe.propose_amend(node, step, values, why),
    )
