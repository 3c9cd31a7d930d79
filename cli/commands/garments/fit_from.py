"""trueup fit-from: from what was pinned on a garment to the corrections it stands for."""

from pathlib import Path
from typing import Annotated

import typer

from trueup.cli.atomic_file import write_new
from trueup.cli.json import fit as json_fit
from trueup.cli.opening import reading
from trueup.cli.options import shared as options
from trueup.cli.page import show
from trueup.cli.render.garments.fit import fit_lines
from trueup.lineage.diagnosis.fit_from import fit_from as fitting_from
from trueup.lineage.diagnosis.pinned import How, Pin


def _amounts(word: str, help_text: str) -> object:
    return typer.Option(word, metavar="PLACE=LENGTH[@WHERE]", help=help_text, show_default=False)


def fit_from(
    node: options.Node,
    pinned: Annotated[
        list[str] | None,
        _amounts(
            "--pinned",
            "Taken in by pins: front.side=8mm, front.hem=10mm@30%, side-seam=16mm through both "
            "layers, bust=3cm all round, a dart by its name; can be given again.",
        ),
    ] = None,
    let_out: Annotated[
        list[str] | None,
        _amounts("--let-out", "Let out, at the same places; can be given again."),
    ] = None,
    chalked: Annotated[
        list[str] | None,
        _amounts(
            "--chalked",
            "A new line drawn so far inside the old: front.armhole=5mm@50%, front.neck=1cm, "
            "front.underarm=8mm; can be given again.",
        ),
    ] = None,
    on: Annotated[
        str | None,
        typer.Option(
            "--on",
            metavar="PATTERN",
            help="Correct this block or pattern above instead, where the fault lies; `block` is "
            "the drafted one.",
            show_default=False,
        ),
    ] = None,
    write: Annotated[
        Path | None,
        typer.Option(
            "--write",
            metavar="FILE",
            help="Write the fitting to a new file, for `trueup correct PATTERN --from FILE`.",
            show_default=False,
        ),
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Write over a file of that name.")] = False,
    why: options.Why = "",
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> None:
    """Turn what was pinned on a garment into corrections of its pattern, or of the block above.

    A place is an edge (front.side), a corner (front.shoulder-point), a seam (side-seam), a level
    all round (bust), or a dart (front.bust; back.shoulder-dart where an edge has the same name).
    Amounts at an edge count on one layer, and at a seam through both, of which each layer is given
    half; a fold counts whole. The corrections come in fitting order, with why and with what they
    do; nothing is recorded.

    Put the pins in along the new line with their points away from hands, and take each out before
    a blade or the needle reaches it.
    """
    given = ((How.PINNED, pinned), (How.LET_OUT, let_out), (How.CHALKED, chalked))
    with reading(folder, as_json=as_json) as wardrobe:
        unit, commands = wardrobe.state.unit, wardrobe.commands
        pins = [Pin.read(how, text, unit) for how, texts in given for text in texts or ()]
        fit = fitting_from(wardrobe.evaluator, node, pins, on, why)
    if write is not None:
        write_new(write, fit.text.encode(), replace=force)
    file = None if write is None else str(write)
    if as_json:
        wardrobe.write(json_fit.fit(fit, commands, file))
    else:
        show(*fit_lines(fit, unit, commands, file))
