"""trueup alter: what of a correction can still be done on a garment that is cut."""

from pathlib import Path
from typing import Annotated

import typer

from trueup.cli.failures import Misused
from trueup.cli.json import alteration as json_alteration
from trueup.cli.opening import OpenToRead, reading
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.cli.options.garment_words import narrowest_allowance
from trueup.cli.page import said, show
from trueup.cli.render.garments.alteration import alteration_lines
from trueup.geometry.cloth.cut_cloth import LEAST
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.fitting import fitting_content
from trueup.lineage.garments.alteration import asked_of
from trueup.lineage.garments.as_if import as_if_fitted
from trueup.lineage.writable import WritableWardrobe


def alter(
    garment: options.Garment,
    fitting: Annotated[
        Path | None,
        typer.Option(
            "--from",
            metavar="FILE",
            help="A fitting that is not recorded yet: answer as if it were made.",
            show_default=False,
        ),
    ] = None,
    on: Annotated[
        str | None,
        typer.Option(
            "--on",
            metavar="PATTERN",
            help="The block or pattern the fitting is for; the garment's pattern unless given.",
            show_default=False,
            autocompletion=completion.nodes,
        ),
    ] = None,
    least: Annotated[
        str | None,
        typer.Option(
            "--least",
            metavar="LENGTH",
            help="The narrowest allowance a seam may be left with (unless given: 6 mm).",
            show_default=False,
        ),
    ] = None,
    picture: options.Picture = None,
    force: options.Force = False,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> None:
    """Say what can still be done on a garment's cloth, now that its pattern was corrected.

    Edge by edge: can be sewn again as corrected; can in part, and how much cloth lacks where; or
    cannot. Cloth is taken in or cut away at will, and let out as far as its allowance goes. Then
    whether the sleeve as it is cut still fits, what would be left uneven, and the steps in sewing
    order. The picture shows the cloth with the seam lines as sewn and as wanted, what is to be cut
    off, and where cloth lacks, each edge numbered. Nothing is recorded; when it is done,
    `trueup garment GARMENT --status altered` says so.
    """
    if picture:
        from trueup.cli.drawing.scene.saving import require_picture, save_picture  # noqa: PLC0415
        from trueup.cli.pictures.cloth import alteration_scene  # noqa: PLC0415

        require_picture(picture)
    if on is not None and fitting is None:
        raise Misused(
            "--on says which block or pattern a fitting is for; give the fitting with --from."
        )
    with reading(folder, as_json=as_json) as wardrobe:
        unit = wardrobe.state.unit
        narrowest = LEAST if least is None else narrowest_allowance(least, unit)
        after = None if fitting is None else _as_if(wardrobe, garment, fitting, on, folder)
        asked = asked_of(wardrobe.wardrobe, garment, narrowest, after)
        found = asked.answer()
        commands = wardrobe.commands
    is_preview = fitting is not None
    if picture:
        scene = alteration_scene(asked, found, unit, is_preview=is_preview)
        save_picture(scene, picture, replace=force)
    if as_json:
        wardrobe.write(json_alteration.alteration(found))
        return
    show(*alteration_lines(found, unit, commands, is_preview=is_preview))
    if picture:
        show(said(f"Drew it in {picture}."))


def _as_if(
    reading: "OpenToRead", garment: str, fitting: Path, on: str | None, folder: Path | None
) -> "Evaluator":
    """Return the evaluator of the wardrobe as a fitting would leave it."""
    with WritableWardrobe.open(folder or Path()) as beside:
        state = as_if_fitted(beside, garment, str(fitting), fitting_content(fitting), on)
    return reading.wardrobe.evaluator_of(state)
