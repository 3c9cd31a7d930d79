"""trueup graft: the style of one pattern on another block."""

from typing import Annotated

import typer

from trueup.cli.carrying_out.manner import Manner
from trueup.cli.carrying_out.stepping import carry_out
from trueup.cli.failures import Misused
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
    names: Annotated[
        list[str] | None,
        typer.Option(
            "--with",
            metavar="THEIR=OURS",
            help="What the block calls otherwise than the style: a piece (front=panel), an edge or "
            "a dart (front.side=panel.flank), once for each.",
            show_default=False,
        ),
    ] = None,
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
    one. Where the block calls pieces, edges or darts otherwise, as a traced one may, say so with
    --with; corners between edges that are named follow.
    """
    called = _called(names or [])
    return carry_out(
        Manner(folder, preview, as_json),
        lambda wardrobe: wardrobe.propose_graft(pattern, ParentRecord(onto), name, why, called),
    )


def _called(given: list[str]) -> dict[str, str]:
    called: dict[str, str] = {}
    for text in given:
        their, equals, our = text.partition("=")
        if not (equals and their.strip() and our.strip()):
            raise Misused(f'--with "{text[:80]}" is not THEIR=OURS; write front.side=panel.flank.')
        if their.strip() in called:
            raise Misused(f"--with gives {their.strip()} two names; give it one.")
        called[their.strip()] = our.strip()
    return called
