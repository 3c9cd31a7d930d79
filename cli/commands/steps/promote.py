"""trueup promote: move a correction from a pattern up to the ancestor where the fault lives."""

from pathlib import Path
from typing import Annotated

import typer

from trueup.cli.carrying_out.taking_up import tell_taken_up
from trueup.cli.command_line import CommandLine
from trueup.cli.failures import Misused
from trueup.cli.json import forms as json_forms
from trueup.cli.json import promotion as json_promotion
from trueup.cli.opening import note_hand_edits
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.cli.page import show
from trueup.cli.patience import patience
from trueup.cli.render.promotion import promotion_lines
from trueup.cli.unreadable import note_missing
from trueup.geometry.units import Unit, parse_length
from trueup.lineage.promotion.amounts import Wish
from trueup.lineage.promotion.errors import ComesOutDifferent
from trueup.lineage.promotion.promoting import Promotion, propose_promotion
from trueup.lineage.proposal import Proposal
from trueup.lineage.writable import WritableWardrobe


def promote(
    node: options.Node,
    step: Annotated[
        str,
        typer.Argument(
            metavar="STEP",
            help="Id of the correction, or of the fitting, as `history PATTERN` lists it.",
            autocompletion=completion.steps,
        ),
    ],
    to: Annotated[
        str | None,
        typer.Option(
            "--to",
            metavar="ANCESTOR",
            help="Where it goes; unless given, to what last shaped its place before it was made.",
            show_default=False,
            autocompletion=completion.nodes,
        ),
    ] = None,
    as_is: Annotated[
        bool, typer.Option("--as-is", help="Where a dart is shared above, keep the amount.")
    ] = False,
    scaled: Annotated[
        bool,
        typer.Option(
            "--scaled", help="Find the amount by which the pattern keeps the measure it changed."
        ),
    ] = False,
    by: Annotated[
        str | None,
        typer.Option("--by", metavar="LENGTH", help="The amount it has above.", show_default=False),
    ] = None,
    dart: Annotated[
        str | None,
        typer.Option(
            "--dart",
            metavar="PIECE.DART",
            help="The ancestor's dart that takes it, where that has another name.",
            show_default=False,
        ),
    ] = None,
    accept: Annotated[
        bool,
        typer.Option(
            "--accept-difference", help="Record it though the pattern comes out different."
        ),
    ] = False,
    why: options.Why = "",
    preview: options.Preview = False,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """Move a correction made on a pattern up to the block or pattern where the fault lies.

    The step is taken out of this pattern and becomes the last step of the one above, as one step:
    this pattern comes out as it was, and whatever else derives from the one above gains the
    correction. Where it cannot come out the same, because other changes lie between, the
    difference is shown edge by edge, and nothing is written without --accept-difference.
    """
    if sum((as_is, scaled, by is not None)) > 1:
        raise Misused("Give one of --as-is, --scaled and --by, for each says how much.")
    commands = CommandLine(folder)

    with (
        WritableWardrobe.open(folder or Path()) as wardrobe,
        patience(wardrobe, silent=as_json),
    ):
        unit = wardrobe.state.unit
        wish = Wish(as_is, scaled, None if by is None else parse_length(by, unit), dart)
        made: list[Promotion] = []  # the last one worked out, for what is told of it

        def propose(current: WritableWardrobe) -> Proposal:
            made[:] = [propose_promotion(current, node, step, to, wish, why)]
            if not (accept or preview):
                made[0].outcome.require_as_drawn()
            return made[0].proposal

        try:
            if preview:
                propose(wardrobe)
                note_hand_edits(wardrobe, wardrobe.state)
                note_missing(wardrobe)
                commit = None
            else:
                commit = wardrobe.carry_out(propose, tell_taken_up).commit
                note_missing(wardrobe)
        except ComesOutDifferent:
            _tell(made[0], None, unit, commands, as_json=as_json, is_refused=True)
            raise
    _tell(made[0], commit, unit, commands, as_json=as_json)
    return 0


def _tell(
    made: "Promotion",
    commit: str | None,
    unit: "Unit",
    commands: "CommandLine",
    *,
    as_json: bool,
    is_refused: bool = False,
) -> None:
    if as_json:
        json_forms.write(json_promotion.promotion(made, commit, commands))
    else:
        show(*promotion_lines(made, unit, commands, commit, is_refused=is_refused))
