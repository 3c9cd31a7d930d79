"""Groups of commands: the verbs, and under `style` and `correct` the kinds of change."""

from typing import Any

from typer.core import TyperGroup

from trueup.cli.failures import Misused, nearest
from trueup.cli.plain.help_pages import PlainHelp, first_sentence


class NamedGroup(PlainHelp, TyperGroup):
    """A group that lists its commands by their first sentence and tells the nearest names.

    `thing` is what its commands are called in a sentence, `heading` above their list.
    """

    thing = "verb"
    heading = "Verbs"

    def in_short(self, ctx: Any) -> list[tuple[str, str]]:
        """Return every command that is listed with the first sentence of its help."""
        commands = ((name, self.get_command(ctx, name)) for name in self.list_commands(ctx))
        return [(name, first_sentence(each.help or "")) for name, each in commands if each]

    def resolve_command(self, ctx: Any, args: list[str]) -> Any:
        """Find the command; raises Misused with the nearest names for one that is not there."""
        name = args[0]
        is_option = name.startswith("-")
        if not is_option and not ctx.resilient_parsing and self.get_command(ctx, name) is None:
            like = nearest(name, self.list_commands(ctx))
            raise Misused(f'"{name}" is not a {self.thing} of trueup; try {like}.')
        return super().resolve_command(ctx, args)

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """Write the options, then every command with the first sentence of its help in full."""
        super().format_options(ctx, formatter)
        with formatter.section(self.heading):
            formatter.write_dl(self.in_short(ctx))
