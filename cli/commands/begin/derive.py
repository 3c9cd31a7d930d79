"""trueup derive: a new pattern, or a derived block, from what is there."""

from typing import Annotated

import typer

from trueup.cli.carrying_out.manner import Manner
from trueup.cli.carrying_out.stepping import carry_out
from trueup.cli.failures import Misused
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.lineage.files.records import ParentRecord


def derive(
    name: Annotated[str, typer.Argument(metavar="NAME", help="Name of the new pattern.")],
    parents: Annotated[
        list[str] | None,
        typer.Option(
            "--from",
            metavar="PARENT[:PIECE,PIECE]",
            help="The block or pattern it derives from, with all its pieces or those named; once "
            "for each parent.",
            show_default=False,
            autocompletion=completion.nodes,
        ),
    ] = None,
    block: Annotated[
        bool, typer.Option("--block", help="It is a block itself, for patterns to derive from.")
    ] = False,
    stay_on: Annotated[
        str | None,
        typer.Option(
            "--stay-on",
            metavar="VERSION",
            help="Stay on this earlier version of the parent, whatever is corrected later.",
            show_default=False,
        ),
    ] = None,
    preview: options.Preview = False,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """Derive a pattern from a block or another pattern.

    It starts as its parent is; style changes make it a pattern of its own. It may take pieces from
    several parents: `--from blouse:front,back --from nightgown:sleeve`. So a collar or a sleeve is
    taken from another pattern, with the seams that sew it, and goes on following that one.
    """
    if not parents:
        raise Misused(f"{name} needs a parent; name it with --from, as in --from village-block.")
    records = [_parent(text, stay_on) for text in parents]
    return carry_out(
        Manner(folder, preview, as_json),
        lambda wardrobe: wardrobe.propose_child(name, records, is_block=block),
    )


def _parent(text: str, stay_on: str | None) -> "ParentRecord":
    name, colon, listed = text.partition(":")
    pieces = tuple(piece.strip() for piece in listed.split(",")) if colon else None
    if pieces is not None and not all(pieces):
        raise Misused(
            f'"{text}" does not name its pieces; write them as in {name or "PARENT"}:front,back.'
        )
    return ParentRecord(name, pieces, stay_on)
