"""trueup compare: old and new over each other, and how far each edge moved."""

from pathlib import Path
from typing import Annotated

import typer

from trueup.cli.failures import Misused
from trueup.cli.json.patterns import sizes as json_sizes
from trueup.cli.json.patterns.comparison import comparison
from trueup.cli.opening import reading
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.cli.page import said, show
from trueup.cli.pictures.comparing import caption, versions
from trueup.cli.render.patterns.comparison import comparison_lines
from trueup.cli.render.patterns.sizes import growth_lines
from trueup.geometry.comparing.alignment import alignment
from trueup.geometry.comparing.comparison import compare as compared
from trueup.lineage.sizes.growth import grown


def compare(
    node: options.Node,
    other: Annotated[
        str | None,
        typer.Argument(
            metavar="OTHER",
            help="Another block or pattern to compare it with, instead of an earlier version.",
            autocompletion=completion.nodes,
        ),
    ] = None,
    from_: Annotated[
        str | None,
        typer.Option(
            "--from",
            metavar="VERSION",
            help="The version of PATTERN to start from; unless given, the one before the last step "
            "that changed it.",
            show_default=False,
        ),
    ] = None,
    to: Annotated[
        str | None,
        typer.Option(
            "--to",
            metavar="VERSION",
            help="The version to compare with; as it is now unless given.",
            show_default=False,
        ),
    ] = None,
    align: Annotated[
        str,
        typer.Option(
            "--align",
            metavar="centre|PIECE.CORNER|PIECE.EDGE",
            help="What lies on what: centre line and bust level, a corner such as "
            "front.shoulder-point, or an edge such as front.side.",
        ),
    ] = "centre",
    sizes: Annotated[
        bool,
        typer.Option(
            "--sizes", help="How it grows from size to size, and where it does not do so evenly."
        ),
    ] = False,
    picture: options.Picture = None,
    force: options.Force = False,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> None:
    """Compare two versions of a block or pattern, or two of them: which edges moved, and how far.

    How far is the largest distance between the old and the new line of an edge, darts left out.
    """
    if sizes:
        if any((other, from_, to, picture)):
            raise Misused("--sizes compares the sizes of one pattern; leave out all else.")
        _growth(node, as_json, folder)
        return
    if picture:
        from trueup.cli.drawing.scene.saving import require_picture  # noqa: PLC0415

        require_picture(picture)
    with reading(folder, as_json=as_json) as wardrobe:
        old, new = versions(wardrobe, node, other, from_, to)
        unit = wardrobe.state.unit
    found = compared(old.draft, new.draft, alignment(align, old.draft, new.draft))
    if picture:
        from trueup.cli.drawing.overlay import overlay  # noqa: PLC0415
        from trueup.cli.drawing.scene.saving import save_picture  # noqa: PLC0415

        save_picture(overlay(found, caption(found, old, new, unit)), picture, replace=force)
    if as_json:
        wardrobe.write(comparison(found, old.form, new.form, align))
        return
    show(*comparison_lines(found, old.words, new.words, unit))
    if picture:
        show(said(f"Drew it in {picture}."))


def _growth(node: str, as_json: bool, folder: Path | None) -> None:
    with reading(folder, as_json=as_json) as wardrobe:
        found, unit = grown(wardrobe.evaluator, node), wardrobe.state.unit
    if as_json:
        wardrobe.write(json_sizes.growth(node, found))
    else:
        show(*growth_lines(node, found, unit))
