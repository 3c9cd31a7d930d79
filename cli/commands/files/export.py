"""trueup export: write a pattern as a file other tools read."""

from pathlib import Path
from typing import Annotated

import typer

from trueup.cli.atomic_file import write_new
from trueup.cli.exporting.exported import exported
from trueup.cli.exporting.formats import format_of
from trueup.cli.opening import reading
from trueup.cli.options import shared as options
from trueup.cli.page import note, said, show
from trueup.cli.render.patterns.not_drawn import not_drawn


def export(
    node: options.Node,
    file: Annotated[
        Path,
        typer.Argument(
            metavar="FILE",
            help="The file to write; how its name ends says which format.",
        ),
    ],
    force: options.Force = False,
    as_of: options.AsOf = None,
    folder: options.Folder = None,
) -> None:
    """Write a block or pattern as a file for other tools, at true scale.

    NAME.svg is a drawing, one unit a millimetre, each edge a path named piece.edge. NAME.dxf has a
    block for each piece, on the layers of ASTM D6673, in millimetres: 1 the cutting line (or the
    seam line where there is no allowance), 2 and 3 its turn and curve points, 4 notches, 6 the
    fold, 7 the grainline, 8 darts and lines marked inside, 13 holes and buttons, 14 seam lines, 15
    text. NAME.pdf is one page with all pieces and a test square, as large as they need, its lines
    named as on a sheet; `sheet` spreads them over pages of paper. NAME.csv holds the measures,
    NAME.json everything known. NAME.png is a picture to look at, and not to scale.
    """
    form = format_of(file)
    with reading(folder, as_of) as wardrobe:
        found = exported(wardrobe, node, as_of)
        content = form.content(found)
    write_new(file, content, replace=force)
    if lost := not_drawn(found.draft):
        note(lost)
    show(said(f"Wrote {node} to {file}: {form.says}."))
