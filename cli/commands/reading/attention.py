"""trueup without a verb: what needs attention, and the next sensible command."""

from pathlib import Path

from trueup.cli.command_line import CommandLine
from trueup.cli.opening import note_joined
from trueup.cli.page import show
from trueup.cli.render.attention import attention_lines, next_command, welcome_lines
from trueup.cli.unreadable import code_of_whole, note_unreadable, with_unreadable
from trueup.lineage.errors import NotAWardrobe
from trueup.lineage.opened import OpenWardrobe


def attention(folder: Path | None, as_json: bool) -> int:
    """Say what needs attention in the wardrobe at hand; outside of one, how to begin.

    Returns the exit code: 3 where something cannot be read.
    """
    commands = CommandLine(folder)
    try:
        opened = OpenWardrobe.open(folder or Path())
    except NotAWardrobe:
        if folder is not None or as_json or (Path() / "wardrobe.toml").exists():
            raise
        show(*welcome_lines())
        return 0
    with opened as wardrobe:
        state, edited, fetched = wardrobe.state, wardrobe.edited_files, wardrobe.fetched
        edits = wardrobe.edits
    if as_json:
        from trueup.cli.json import forms as json_forms  # noqa: PLC0415

        next_ = next_command(state, commands, fetched)
        document = json_forms.attention(state, edited, fetched, commands, next_)
        json_forms.write(with_unreadable(document, state))
    else:
        show(*attention_lines(state, edited, commands, fetched))
    note_joined(edits)
    note_unreadable(state)
    return code_of_whole(state)
