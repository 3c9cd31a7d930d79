"""trueup look: the live page, the wardrobe's book served on this machine alone."""

from pathlib import Path
from typing import Annotated

import typer

from trueup.cli.failures import Misused
from trueup.cli.options import completion
from trueup.cli.options import shared as options
from trueup.cli.page import can_draw, command, drawn, said, show

_NEEDS = (
    "The live page needs the libraries segno, starlette and uvicorn, which are not installed here; "
    "install them with `pip install segno starlette uvicorn`."
)

_TO_PHONE = (
    "A phone in the same network can send one note on {} for ten minutes, by this code. The local "
    "network is not encrypted: whoever is in it could read the note and see its photo on their "
    "way. It is recorded when you confirm it on the garment's page."
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
    phone: Annotated[
        str | None,
        typer.Option(
            "--phone",
            metavar="GARMENT",
            help="Let a phone send one fit note on this garment: a QR code opens its form for ten "
            "minutes, in a local network that is not encrypted.",
            show_default=False,
            autocompletion=completion.garments,
        ),
    ] = None,
    folder: options.Folder = None,
) -> int:
    """Look at the wardrobe on a live page, and try corrections on it before you record them.

    It shows the same pages as `trueup book`, always as the wardrobe is now. On the page of a block
    or pattern choose a line and a kind of change, for fit or for looks, and see what would become
    of every pattern below while you move the amount; nothing is written until you press Record,
    which makes the same step as the command that is shown. Whatever it can do, a command can.

    What amending a step, taking one out, or the pins of a garment would do is shown as well before
    it is recorded. Every remedy of a conflict can be decided for by a button, fit notes written
    down with a photo, a drawing made a block by pointing at its lines, and each step undone in the
    message that follows. Where someone else wrote meanwhile nothing is recorded, and it is asked
    again.

    The page is served to this machine only, at an address that nobody can guess, until its last
    window is closed, nothing was asked for an hour, or you press Ctrl-C. With --phone one form is
    open to the local network as well, for one note on one garment: nothing can be read there, and
    what is sent waits on the garment's page until you confirm it.
    """
    try:
        from trueup.cli.look.phone.code import in_letters  # noqa: PLC0415
        from trueup.cli.look.phone_door import PhoneDoor  # noqa: PLC0415
        from trueup.cli.look.serving import Serving, serve  # noqa: PLC0415
    except ModuleNotFoundError as error:
        if (error.name or "").partition(".")[0] not in ("segno", "starlette", "uvicorn"):
            raise
        raise Misused(_NEEDS) from None

    def say(address: str) -> None:
        words = "Open" if no_browser else "Opened in your browser; if not, open"
        show(said(f"{words} {address}"), said("Ctrl-C stops it."))
        if door is not None:
            show(
                said(_TO_PHONE.format(door.garment)),
                *([drawn(in_letters(door.address))] if can_draw() else []),
                command(door.address),
            )

    door = None if phone is None else PhoneDoor(phone)
    try:
        serve(Serving(folder or Path(), versions, 60.0 * idle, not no_browser, door), say)
    except KeyboardInterrupt:
        # It is how a maker ends it.
        return 0
    return 0
