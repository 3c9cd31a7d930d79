"""trueup look: the live page, the wardrobe's book served on this machine alone."""

from pathlib import Path
from typing import Annotated

import typer

from trueup.cli.failures import Misused
from trueup.cli.options import shared as options
from trueup.cli.page import said, show

_NEEDS = (
    "The live page needs the libraries starlette and uvicorn, which are not installed here; "
    "install them with `pip install starlette uvicorn`."
)


def look(
    no_browser: Annotated[
        bool,
        typer.Option("--no-browser", help="Open no browser; print the address to open, and stay."),
    ] = False,
    versions: Annotated[
        int,
        typer.Option(
            "--versions",
            min=0,
            metavar="N",
            help="How many versions of each block and pattern to draw, the newest first.",
        ),
    ] = 5,
    idle: Annotated[
        float,
        typer.Option(
            "--idle",
            min=0,
            max=1440,
            metavar="MINUTES",
            help="Stop when nothing was asked for so long.",
        ),
    ] = 60.0,
    folder: options.Folder = None,
) -> int:
    """Look at the wardrobe on a live page, and try corrections on it before you record them.

    It shows the same pages as `trueup book`, always as the wardrobe is now. On the page of a block
    or pattern choose a line and a kind of change, and see what would become of every pattern below
    while you move the amount; nothing is written until you press Record, which makes the same step
    as the command that is shown. Whatever it can do, a command can.

    The page is served to this machine only, at an address that nobody can guess, until its last
    window is closed, nothing was asked for an hour, or you press Ctrl-C.
    """
    try:
        from trueup.cli.look.serving import Serving, serve  # noqa: PLC0415
    except ModuleNotFoundError as error:
        if (error.name or "").partition(".")[0] not in ("starlette", "uvicorn"):
            raise
        raise Misused(_NEEDS) from None

    def say(address: str) -> None:
        words = "Open" if no_browser else "Opened in your browser; if not, open"
        show(said(f"{words} {address}"), said("Ctrl-C stops it."))

    try:
        serve(Serving(folder or Path(), versions, 60.0 * idle, not no_browser), say)
    except KeyboardInterrupt:
        # It is how a maker ends it.
        return 0
    return 0
