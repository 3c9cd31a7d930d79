"""Steps that are proposed and not made, written as commands: to try, or to make."""

from collections.abc import Mapping, Sequence

from trueup.cli.command_line import CommandLine
from trueup.cli.options.kinds import option_word


def correction_line(
    commands: CommandLine, node: str, kind: str, values: Mapping[str, object]
) -> str:
    """Return the command that previews a correction; `values` are as a file writes them."""
    return commands.line("correct", node, kind, *_words(values), "--preview")


def made_line(
    commands: CommandLine,
    verb: str,
    node: str,
    kind: str,
    values: Mapping[str, object],
    why: str,
    mends: Sequence[str],
) -> str:
    """Return the command of a verb that makes a change; `values` are as a maker writes them."""
    words = [verb, node, kind, *_words(values)]
    if why:
        # A reason may begin like an option.
        words += [f"--why={why}"] if why.startswith("-") else ["--why", why]
    for note in mends:
        words += ["--mends", note]
    return commands.line(*words)


def _words(values: Mapping[str, object]) -> list[str]:
    words: list[str] = []
    for name, value in values.items():
        if isinstance(value, bool):
            words += [option_word(name)] if value else []
        else:
            words += [option_word(name), str(value)]
    return words
