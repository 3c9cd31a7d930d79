"""trueup walk: lay one seam line along another and read off what is left over."""

from typing import Annotated

import typer

from trueup.cli.json.patterns.walks import walks
from trueup.cli.opening import reading
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.cli.page import said, show
from trueup.cli.render.patterns.walks import walk_lines
from trueup.geometry.sides.naming import names_at


def walk(
    node: options.Node,
    seam: Annotated[
        str | None,
        typer.Argument(
            metavar="SEAM",
            help="A seam such as side-seam; all seams unless given.",
            autocompletion=completion.seams,
        ),
    ] = None,
    picture: options.Picture = None,
    force: options.Force = False,
    as_of: options.AsOf = None,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> None:
    """Walk the seams: lay each seam line along its mate, stepping over darts.

    The ease is how much longer the first side is than the second.
    """
    with reading(folder, as_of, as_json=as_json) as wardrobe:
        wardrobe.state.node(node)
        draft = wardrobe.evaluator.draft(node)
        unit = wardrobe.state.unit
    known = [each.name for each in draft.seams]
    names = [draft.seam(each).name for each in names_at(known, seam)] if seam else known
    if picture:
        from trueup.cli.drawing.scene.saving import save_picture  # noqa: PLC0415
        from trueup.cli.drawing.seam_walk import walk_picture  # noqa: PLC0415

        save_picture(walk_picture(draft, names, f"{node}, walked", unit), picture, replace=force)
    if as_json:
        wardrobe.write(walks(node, draft, names))
    else:
        show(*walk_lines(node, draft, names, unit))
        if picture:
            show(said(f"Drew it in {picture}."))
