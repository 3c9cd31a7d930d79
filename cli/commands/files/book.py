"""trueup book: the whole wardrobe as one HTML file to leaf through."""

from pathlib import Path
from typing import Annotated

import typer

from trueup.cli.book.binding import bound
from trueup.cli.opening import reading
from trueup.cli.options import shared as options
from trueup.cli.page import said, show


def book(
    file: Annotated[
        Path | None,
        typer.Argument(
            metavar="FILE.html",
            help="The file to write; named after the wardrobe, in the folder you stand in, unless "
            "given.",
            show_default=False,
        ),
    ] = None,
    versions: Annotated[
        int,
        typer.Option(
            "--versions",
            min=0,
            metavar="N",
            help="How many versions of each block and pattern to draw, the newest first.",
        ),
    ] = 5,
    force: options.Force = False,
    as_json: options.Json = False,
    cluster: options.Cluster = None,
    folder: options.Folder = None,
) -> int:
    """Write the wardrobe as a book: one HTML file for any browser, which needs nothing else.

    It has the graph to click through and a page for each block, pattern, garment and conflict: its
    picture, its chain in words, its measures, where each edge comes from, its versions laid over
    each other, its remedies, fit notes with their photos, and the faults that garments share.
    Exits with 3 when something cannot be read; the book is of the rest, and says so.
    """
    with reading(folder, evaluated=True, cluster=cluster, as_json=as_json) as wardrobe:
        made = bound(wardrobe, file, versions, replace=force, silent=as_json)
    if as_json:
        wardrobe.write({"file": str(made.file), "pages": made.pages, "bytes": made.size})
    else:
        show(said(f"Wrote {made.pages} pages to {made.file}; open it in a browser."))
    return wardrobe.code_of_whole()
