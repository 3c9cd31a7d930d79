"""trueup draft: draft a block from body measurements."""

import inspect
from typing import Annotated, Any

import typer

from trueup.cli.carrying_out.manner import Manner
from trueup.cli.carrying_out.stepping import carry_out
from trueup.cli.options import body as body_options
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.cli.options.made import as_command, keyword, positional
from trueup.geometry.drafting import SYSTEMS
from trueup.lineage.files.records import BlockDraft

_NAME = Annotated[
    str, typer.Argument(metavar="NAME", help="Name of the new block, such as village-block.")
]


def draft() -> None:
    """Draft a block from body measurements.

    The block is close-fitting, with its sleeve, and comes out true. Measurements are lengths such
    as 88cm or 34 1/2in; a bare number takes the wardrobe's unit. What was measured of a wearer and
    written down with `body` is taken with --for; the block then says when it no longer follows it.
    """


def verb() -> Any:
    """Return the verb with the measurements its systems ask for as options."""
    return as_command(_run, "draft", draft.__doc__ or "", _parameters())


def _parameters() -> list[inspect.Parameter]:
    systems = "; ".join(f"{each.name}: {each.summary}" for each in SYSTEMS.values())
    system = typer.Option(
        "--system",
        metavar="SYSTEM",
        help=f"The drafting system. {systems}.",
        autocompletion=completion.words(SYSTEMS),
    )
    return [
        positional("name", _NAME),
        keyword("system", Annotated[str, system], next(iter(SYSTEMS))),
        keyword("wearer", body_options.For),
        keyword("date", body_options.SetOf),
        *body_options.of_any_system(),
        keyword("preview", options.Preview, False),
        keyword("as_json", options.Json, False),
        keyword("folder", options.Folder),
    ]


def _run(
    ctx: Any,  # noqa: ARG001
    name: str,
    system: str,
    wearer: str | None,
    date: str | None,
    preview: bool,
    as_json: bool,
    folder: Any,
    **body: str | None,
) -> int:
    taken, wish = body_options.given_body(body), body_options.wish_of(wearer, date)
    return carry_out(
        Manner(folder, preview, as_json),
        lambda wardrobe: wardrobe.propose_block(name, BlockDraft(system, taken), wish),
    )
