"""trueup keep: take up files as they were edited by hand."""

from pathlib import Path
from typing import Annotated

import typer

from trueup.cli.carrying_out.taking_up import tell_taken_up
from trueup.cli.command_line import CommandLine
from trueup.cli.failures import Misused
from trueup.cli.options import shared as options
from trueup.cli.options.named_files import inside
from trueup.cli.page import command, said, show
from trueup.cli.patience import patience
from trueup.lineage.writable import WritableWardrobe


def keep(
    files: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[FILE]...",
            help="Files to be taken as they stand, though that changes cut cloth or takes out what "
            "was recorded; a deleted file is named as well.",
            show_default=False,
        ),
    ] = None,
    why: options.Why = "",
    folder: options.Folder = None,
) -> None:
    """Record what you edited by hand in the wardrobe's files, as a step of its own.

    Every other step does so first. Only what would change a fact, or take out what the file's
    editor may not have known of, has to be asked for, by its file and with --why: cloth that was
    cut, a photo that a fit note refers to, a file as it was before the last steps.
    """
    asked = [inside(folder, name) for name in files or ()]
    if asked and not why:
        raise Misused(f"Say with --why why {', '.join(asked)} is right as it stands.")
    with (
        WritableWardrobe.open(folder or Path()) as wardrobe,
        patience(wardrobe),
        wardrobe.writing(),
    ):
        taken = wardrobe.take_up_hand_edits(asked, why)
    if taken is None:
        show(said("Nothing was edited by hand since the last step."))
        return
    tell_taken_up(taken)
    show(
        said(f"Recorded as {taken.commit[:10]}."),
        said("Next, see what needs attention:"),
        command(CommandLine(folder).line()),
    )
