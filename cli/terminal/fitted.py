"""Fit the parts of a page to a width: every part becomes lines, and no line hides anything."""

from collections.abc import Iterable, Iterator
from typing import Protocol, runtime_checkable

from rich.console import Console, ConsoleOptions, RenderableType, RenderResult
from rich.padding import Padding
from rich.text import Text

from trueup.cli.terminal.typesetting import Signs
from trueup.cli.terminal.wrapping import indented, wrapped


@runtime_checkable
class LaidOut(Protocol):
    """A part of a page that knows itself how it is laid out in a width."""

    def fitted(self, width: int, signs: Signs) -> Iterable[Text]:
        """Yield its lines, with the signs of the page."""


class Hanging:
    """Words behind a sign or number, in line below each other; `rest` stands before further lines.

    `is_guide` says that what stands before them are the guides of a tree.
    """

    def __init__(self, before: str, rest: str, words: Text, *, is_guide: bool = False) -> None:
        self.before, self.rest, self.words, self.is_guide = before, rest, words, is_guide

    def fitted(self, width: int, signs: Signs) -> Iterator[Text]:
        """Yield the lines."""
        before, rest = self.before, self.rest
        if self.is_guide:
            before, rest = signs.guide(before), signs.guide(rest)
        lines = wrapped(signs.words(self.words), width - max(len(before), len(rest)))
        for number, line in enumerate(lines):
            yield indented(line, rest if number else before)

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        """Yield the lines as they are laid out on any console."""
        del console
        yield from self.fitted(options.max_width, Signs(are_real=False))


def fitted(part: RenderableType, width: int, signs: Signs) -> Iterator[Text]:
    """Yield the lines of a part of a page; a command is one line, however long.

    Raises TypeError for what is no part of a page.
    """
    match part:
        case Padding():
            for line in fitted(part.renderable, width - part.left - part.right, signs):
                yield indented(line, part.left)
        case Text():
            as_it_is = bool(part.no_wrap)
            yield from (part.split("\n", allow_blank=True) if as_it_is else ())
            yield from (() if as_it_is else wrapped(signs.words(part), width))
        case LaidOut():
            yield from part.fitted(width, signs)
        case _:
            raise TypeError(f"no lines for {type(part).__name__}")
