"""trueup export: draw a pattern as SVG at true scale."""

from pathlib import Path
from typing import Annotated

import typer

from cli import options
from cli.failures import Misused


def export(
    node: options.Node,
    file: Annotated[Path, typer.Argument(metavar="FILE.svg", help="The file to write.")],
    force: Annotated[
        bool, typer.Option("--force", help="Write over a file that is there already.")
    ] = False,
    as_of: options.AsOf = None,
    folder: options.Folder = None,
) -> None:
    """Draw a block or pattern as SVG at true scale, one unit a millimetre."""
    from cli.atomic_file import write_new  # noqa: PLC0415
    from cli.drawing.svg import draft_svg  # noqa: PLC0415
    from cli.opening import reading  # noqa: PLC0415
    from cli.render.page import said, show  # noqa: PLC0415

    if file.suffix.lower() != ".svg":
        raise Misused(f"{file} is not named as an SVG file; call it {file.stem or 'NAME'}.svg.")
    with reading(folder, as_of) as wardrobe:
        wardrobe.state.node(node)
        drawing = draft_svg(wardrobe.evaluator.draft(node), node)
    write_new(file, drawing.encode("utf-8"), replace=force)
    show(said(f"Drew {node} in {file}, at true scale in millimetres."))
