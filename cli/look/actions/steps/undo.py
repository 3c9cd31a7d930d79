"""Take the last step back, as it was just told on a page."""

from collections.abc import Iterator

import msgspec

from trueup.cli.carrying_out.undoing import take_back
from trueup.cli.look.acting import action
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.job import Urgency
from trueup.cli.look.owning.line import Line
from trueup.cli.look.recording import moved, recorded


class AskedUndo(msgspec.Struct, forbid_unknown_fields=True):
    """The version as the step left it that is to be taken back."""

    version: str


@action("undo", AskedUndo, Urgency.STEP)
def undo_last(desk: Desk, told: AskedUndo) -> Iterator[Line]:
    """Yield which step was taken back; `moved` where another was made since."""
    with desk.wardrobe.writing():
        if desk.version != told.version:
            yield moved(desk, told.version)
            return
        try:
            done = take_back(desk.wardrobe)
        finally:
            desk.let_go()
    yield recorded(desk, done.step.message, done.commit, desk.commands.line("undo"))
