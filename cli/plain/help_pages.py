"""How help pages are laid out: plain text, in the words of the trade, nothing cut off."""

import re
from collections.abc import Sequence
from shutil import get_terminal_size
from typing import Any

import typer
from typer.core import TyperCommand

from trueup.cli.plain.examples import EXAMPLES
from trueup.cli.plain.typed_words import take_as_typed

_BRACES = re.compile(r"\{([\w.]+)\}")
_TYPE = re.compile(r" <[\w\[\]]+>$")

_ADDED = re.compile(r" +\[([^\[\]]*(?:default: |required|[<>]=)[^\[\]]*)\]$")
_PLAINER = {
    "help": "Show this help.",
    "install_completion": "Teach your shell to complete the names of verbs, patterns and edges.",
    "show_completion": "Print what --install-completion would add to your shell.",
}
"""What options that others wrote the help of are for."""

_HYPHEN = "\N{NON-BREAKING HYPHEN}"
KINDS_UNDER = ("style", "correct")
_WIDEST = 80
_LONGEST = 30  # letters of a name that stands beside what it is
_SHORTEST = 6
_BESIDE = 8  # what a page has of spaces beside its words

_Formatter: Any = typer.Context.formatter_class


def plain_words(text: str) -> str:
    """Return a command's path or usage with its arguments as bare words.

    >>> plain_words("trueup correct {PATTERN} scoop-armhole")
    'trueup correct PATTERN scoop-armhole'
    """
    return _BRACES.sub(r"\1", text)


def first_sentence(text: str) -> str:
    """Return the first paragraph of a help text as one line.

    >>> first_sentence("Walk a seam.\\n\\nSteps over darts.")
    'Walk a seam.'
    """
    return " ".join(text.strip().partition("\n\n")[0].split())


def broken(line: str, room: int) -> list[str]:
    """Return a command broken between its words, as a shell reads it on over several lines.

    >>> broken("trueup style tunic slit --edge front.side --name a --at '5cm from hem'", 40)[:2]
    ['trueup style tunic slit \\\\', '  --edge front.side --name a \\\\']
    """
    if len(line) <= room:
        return [line]
    first, *options = re.split(r" (?=--)", line)
    lines = [first]
    for option in options:
        if lines[-1] != first and len(lines[-1]) + len(option) + 3 <= room:
            lines[-1] += f" {option}"
        else:
            lines.append(f"  {option}")
    return [*(f"{each} \\" for each in lines[:-1]), lines[-1]]


class WholeWords(_Formatter):  # type: ignore[misc]
    """Lays a help page out without breaking a name at one of its hyphens."""

    def write_usage(self, prog: str, args: str = "", prefix: str | None = None) -> None:
        """Write the usage line."""
        super().write_usage(prog, _unbroken(args), prefix)

    def write_text(self, text: str) -> None:
        """Write paragraphs."""
        super().write_text(_unbroken(text))

    def write_dl(
        self, rows: Sequence[tuple[str, str]], col_max: int = 0, col_spacing: int = 2
    ) -> None:
        """Write names with what they are; on a narrow page a long name has a line of its own."""
        least = min(max((len(each) for _, text in rows for each in text.split()), default=0), 50)
        room = max(self.width - least - _BESIDE, _SHORTEST)
        whole = [(first, _unbroken(second)) for first, second in rows]
        super().write_dl(whole, col_max or min(room, _LONGEST), col_spacing)

    def getvalue(self) -> str:
        """Return the page."""
        return str(super().getvalue()).replace(_HYPHEN, "-")


def _unless_given(text: str) -> str:
    """Return a help text whose bounds and default are told in words.

    >>> _unless_given("How many.  [default: 5; 0<=x<=9]")
    'How many (unless given: 5; 0 to 9).'
    """
    told = _ADDED.search(text)
    if told is None:
        return text
    parts = [_bounds(each) for each in told[1].split("; ") if each != "required"]
    before = text[: told.start()].rstrip(".")
    return f"{before} ({'; '.join(parts)})." if parts else f"{before}."


def _bounds(part: str) -> str:
    if part.startswith("default: "):
        return f"unless given: {part.removeprefix('default: ').removesuffix('.0')}"
    low, _, high = part.partition("x")
    return f"{low.strip('<=')} to {high.strip('<=')}" if low else f"{high.strip('>=')} or more"


def _unbroken(text: str) -> str:
    return text.replace("-", _HYPHEN)


def _write_commands(formatter: Any, heading: str, lines: Sequence[str]) -> None:
    if not lines:
        return
    with formatter.section(heading):
        room = formatter.width - formatter.current_indent
        for line in lines:
            for part in broken(line, room):
                formatter.write(f"{'':>{formatter.current_indent}}{part}\n")


class PlainHelp:
    """The parts of a help page that commands and groups share; both take words as typed."""

    def get_help(self, ctx: Any) -> str:
        """Return the help page, as wide as the terminal and never wider than is read with ease."""
        ctx.terminal_width = min(get_terminal_size().columns, _WIDEST) - 2
        ctx.formatter_class = WholeWords
        return str(super().get_help(ctx))  # type: ignore[misc]

    def get_params(self, ctx: Any) -> list[Any]:
        """Return all parameters, those that typer adds as well."""
        found: list[Any] = super().get_params(ctx)  # type: ignore[misc]
        for each in found:
            each.help = _PLAINER.get(each.name, getattr(each, "help", None))
        take_as_typed(found)
        return found

    def format_usage(self, ctx: Any, formatter: Any) -> None:
        """Write the usage line."""
        pieces = " ".join(self.collect_usage_pieces(ctx))  # type: ignore[attr-defined]
        formatter.write_usage(plain_words(ctx.command_path), plain_words(pieces))

    def format_epilog(self, ctx: Any, formatter: Any) -> None:
        """Write what is to be said last, and what the verb is typed like."""
        super().format_epilog(ctx, formatter)  # type: ignore[misc]
        above = ctx.parent.info_name if ctx.parent else ""
        if above in KINDS_UNDER:
            from trueup.cli.plain.kind_examples import typed  # noqa: PLC0415  (of no use to a verb)

            heading = "Example, in the wardrobe of `trueup demo stage --garments`"
            _write_commands(formatter, heading, typed(above, ctx.info_name))
        elif ctx.parent:
            _write_commands(formatter, "Examples", EXAMPLES.get(ctx.info_name, ()))

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """Write what the command takes, arguments first."""
        sections: dict[str, list[tuple[str, str]]] = {"Arguments": [], "Options": []}
        named: dict[str, list[str]] = {}
        for parameter in self.get_params(ctx):
            record = parameter.get_help_record(ctx)
            if panel := getattr(parameter, "rich_help_panel", None):
                named.setdefault(panel, []).append(parameter.opts[0])
            elif record is not None:
                word, text = record
                heading = "Arguments" if parameter.param_type_name == "argument" else "Options"
                sections[heading].append((_TYPE.sub("", word), _unless_given(text)))
        for heading, rows in sections.items():
            if rows:
                with formatter.section(heading):
                    formatter.write_dl(rows)
        for heading, words in named.items():
            with formatter.section(heading):
                formatter.write_text(f"{', '.join(words)}.")


class PlainCommand(PlainHelp, TyperCommand):
    """A command with a plain help page."""
