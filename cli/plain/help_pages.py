"""How help pages are laid out: plain text, in the words of the trade, nothing cut off."""

import re
from typing import Any

from typer.core import TyperCommand

from trueup.cli.plain.typed_words import take_as_typed

_BRACES = re.compile(r"\{([\w.]+)\}")
_TYPE = re.compile(r" <[\w\[\]]+>$")


def plain_words(text: str) -> str:
    """Return a command's path or usage with its arguments as bare words.

    >>> plain_words("trueup correct {NODE} scoop-armhole")
    'trueup correct NODE scoop-armhole'
    """
    return _BRACES.sub(r"\1", text)


def first_sentence(text: str) -> str:
    """Return the first paragraph of a help text as one line.

    >>> first_sentence("Walk a seam.\\n\\nSteps over darts.")
    'Walk a seam.'
    """
    return " ".join(text.strip().partition("\n\n")[0].split())


class PlainHelp:
    """The parts of a help page that commands and groups share; both take words as typed."""

    def get_params(self, ctx: Any) -> list[Any]:
        """Return all parameters, those that typer adds as well."""
        found: list[Any] = super().get_params(ctx)  # type: ignore[misc]
        take_as_typed(found)
        return found

    def format_usage(self, ctx: Any, formatter: Any) -> None:
        """Write the usage line."""
        pieces = " ".join(self.collect_usage_pieces(ctx))  # type: ignore[attr-defined]
        formatter.write_usage(plain_words(ctx.command_path), plain_words(pieces))

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """Write what the command takes, arguments first."""
        sections: dict[str, list[tuple[str, str]]] = {"Arguments": [], "Options": []}
        for parameter in self.get_params(ctx):
            record = parameter.get_help_record(ctx)
            if record is not None:
                word, text = record
                heading = "Arguments" if parameter.param_type_name == "argument" else "Options"
                sections[heading].append((_TYPE.sub("", word), text.replace("  [required]", "")))
        for heading, rows in sections.items():
            if rows:
                with formatter.section(heading):
                    formatter.write_dl(rows)


class PlainCommand(PlainHelp, TyperCommand):
    """A command with a plain help page."""
