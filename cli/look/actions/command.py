"""The command that makes what a page is about to make."""

from collections.abc import Iterator

from trueup.cli.look.acting import action
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.line import Line
from trueup.cli.look.trying.asked import AskedChange, command_of


@action("command", AskedChange)
def show_command(desk: Desk, told: AskedChange) -> Iterator[Line]:
    """Yield the command of a change as it is written now."""
    yield {"command": command_of(desk, told)}
