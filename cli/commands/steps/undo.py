"""trueup undo: take the last step back."""

from pathlib import Path

from trueup.cli.carrying_out.undoing import take_back
from trueup.cli.command_line import CommandLine
from trueup.cli.options import shared as options
from trueup.cli.page import command, said, show
from trueup.cli.patience import patience
from trueup.cli.wording.kinds import subject_in_words
from trueup.lineage.writable import WritableWardrobe


def undo(folder: options.Folder = None) -> None:
    """Take the last step back, by a new step; nothing that was recorded is ever lost.

    Undoing again takes back the step before it. `history` shows what was taken back as well.
    """
    with (
        WritableWardrobe.open(folder or Path()) as wardrobe,
        patience(wardrobe),
        wardrobe.writing(),
    ):
        undone = take_back(wardrobe).step.undone
        show(
            said(f"Taken back: {subject_in_words(undone.subject)} ({undone.id[:10]})", "bold"),
            said("Next, see what needs attention:"),
            command(CommandLine(folder).line()),
        )
