"""trueup walk: lay one seam line along another and read off what is left over."""

from typing import Annotated

import typer

from cli import completion, options


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
    as_of: options.AsOf = None,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> None:
    """Walk the seams: lay each seam line along its mate, stepping over darts.

    The ease is how much longer the first side is than the second.
    """
    from cli import json_forms  # noqa: PLC0415
    from cli.opening import reading  # noqa: PLC0415
    from cli.render.page import show  # noqa: PLC0415
    from cli.render.walks import walk_lines  # noqa: PLC0415

    with reading(folder, as_of) as wardrobe:
        wardrobe.state.node(node)
        draft = wardrobe.evaluator.draft(node)
        unit = wardrobe.state.unit
    names = [draft.seam(seam).name] if seam else [each.name for each in draft.seams]
    if as_json:
        json_forms.write(json_forms.walks(node, draft, names))
    else:
        show(*walk_lines(node, draft, names, unit))
