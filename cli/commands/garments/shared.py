"""trueup shared: who shares a fault, and where one correction would mend the most."""

from typing import Annotated

import typer

from trueup.cli.failures import Misused
from trueup.cli.json import faults as json_faults
from trueup.cli.opening import reading
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.cli.page import note, show
from trueup.cli.render.garments.faults import cause_lines, fault_lines
from trueup.cli.wording.words import worded
from trueup.lineage.faults.causes import causes
from trueup.lineage.faults.inquiry import Inquiry
from trueup.lineage.faults.shared import SharedFault, fault_of_place, faults_of_garment


def _second(ctx: typer.Context, incomplete: str) -> list[str]:
    first = completion.given(ctx, "of")
    if completion.garments(ctx, first) and first in completion.garments(ctx, first):
        return completion.notes(ctx, incomplete)
    return completion.edges_of("of")(ctx, incomplete)


def shared(
    of: Annotated[
        str | None,
        typer.Argument(
            metavar="GARMENT|PATTERN",
            help="A garment, or a block or pattern.",
            autocompletion=completion.nodes_and_garments,
        ),
    ] = None,
    at: Annotated[
        str | None,
        typer.Argument(
            metavar="NOTE|PIECE.EDGE",
            help="Of a garment, the id of one of its fit notes (all open ones unless given); of a "
            "pattern, an edge, a dart or a level such as bust.",
            autocompletion=_second,
        ),
    ] = None,
    everything: Annotated[
        bool, typer.Option("--all", help="Group all open fit notes by their common cause.")
    ] = False,
    single: Annotated[
        bool, typer.Option("--single", help="With --all, list causes seen on one garment too.")
    ] = False,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """Say who shares a fault, and where one correction would mend the most.

    A fault lives in whatever last shaped its place: every pattern that has the place from there
    unchanged shares it, and every garment that was cut so. With --all, or with nothing named, all
    open fit notes are grouped by that; causes are listed that were seen on two garments or more.
    Exits with 3 when a pattern or a garment cannot be read, and so may share it unseen.
    """
    if of is not None and (everything or single):
        raise Misused("Name a garment or a pattern, or ask for --all (with --single), not both.")
    with reading(folder, evaluated=True, as_json=as_json) as wardrobe:
        inquiry = Inquiry(wardrobe.evaluator)
        if of is None:
            found = causes(inquiry)
        else:
            faults = _faults(inquiry, of, at)
    if of is None:
        if as_json:
            wardrobe.write(json_faults.causes(found, with_single=single))
        else:
            show(*cause_lines(found, wardrobe.state.unit, wardrobe.commands, with_single=single))
        return wardrobe.code_of_whole()
    if as_json:
        wardrobe.write(json_faults.faults(faults, inquiry.unknown))
        return wardrobe.code_of_whole()
    for index, each in enumerate(faults):
        show(*([""] if index else []), *fault_lines(each, wardrobe.state.unit, wardrobe.commands))
    for garment in sorted(inquiry.unknown):
        says = worded(inquiry.unknown[garment], wardrobe.state.unit)
        note(f"{garment} was not looked at: {says}.")
    return wardrobe.code_of_whole()


def _faults(inquiry: "Inquiry", of: str, at: str | None) -> "tuple[SharedFault, ...]":
    if of in inquiry.state.garments:
        return faults_of_garment(inquiry, of, at)
    inquiry.state.require_readable(of)
    inquiry.state.node(of)
    if at is None:
        raise Misused(f"Say which place of {of}: an edge such as front.armhole, a dart or a level.")
    return (fault_of_place(inquiry, of, at),)
