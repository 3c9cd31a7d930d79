"""Groups of commands: the verbs, and under `style` and `correct` the kinds of change."""

from typing import Any

import typer
from typer.core import TyperGroup

from trueup.cli.failures import Misused, nearest
from trueup.cli.help_pages import PlainHelp, first_sentence


class NamedGroup(PlainHelp, TyperGroup):
    """A group that lists its commands by their first sentence and tells the nearest names.

    `thing` is what its commands are called in a sentence, `heading` above their list.
    """

    thing = "verb"
    heading = "Verbs"

    def known(self, ctx: typer.Context) -> list[str]:
        """Return the names of all commands that are listed."""
        commands = ((name, self.get_command(ctx, name)) for name in self.list_commands(ctx))
        return [name for name, each in commands if each is not None and not each.hidden]

    def resolve_command(self, ctx: Any, args: list[str]) -> Any:
        """Find the command; raises Misused with the nearest names for one that is not there."""
        name = args[0]
        is_option = name.startswith("-")
        if not is_option and not ctx.resilient_parsing and self.get_command(ctx, name) is None:
            raise Misused(
                f'"{name}" is not a {self.thing} of trueup; try {nearest(name, self.known(ctx))}.'
            )
        return super().resolve_command(ctx, args)

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """Write the options, then every command with the first sentence of its help in full."""
        super().format_options(ctx, formatter)
        rows = [(name, self._in_short(ctx, name)) for name in self.known(ctx)]
        with formatter.section(self.heading):
            formatter.write_dl(rows)

    def _in_short(self, ctx: typer.Context, name: str) -> str:
        command = self.get_command(ctx, name)
        return first_sentence(command.help or "") if command else ""
