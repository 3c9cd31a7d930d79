"""Corrections that are proposed and not made, written as commands to try."""

from collections.abc import Mapping

from trueup.cli.command_line import CommandLine
from trueup.cli.options.kinds import option_word


def correction_line(
    commands: CommandLine, node: str, kind: str, values: Mapping[str, object]
) -> str:
    """Return the command that previews a correction; `values` are as a file writes them."""
    words = ["correct", node, kind]
    for name, value in values.items():
        if isinstance(value, bool):
            words += [option_word(name)] if value else []
        else:
            words += [option_word(name), str(value)]
    return commands.line(*words, "--preview")
