"""Where the commands print: the page a maker reads on stdout, and notes beside it on stderr."""

import os
import sys
from collections.abc import Iterable
from itertools import islice

from rich.console import Console, RenderableType
from rich.padding import Padding
from rich.text import Text

from trueup.cli.terminal.fitted import fitted
from trueup.cli.terminal.typesetting import Signs
from trueup.cli.terminal.waiting import clear
from trueup.cli.terminal.wrapping import wrapped
from trueup.lineage.errors import printable

# A pipe has no width of its own; wide enough that nothing a program reads is ever wrapped.
_WIDTH_OF_A_PIPE = 10_000

_AT_A_TIME = 500  # parts laid out before they are written


class ReaderGone(Exception):
    """Whoever read our output has closed it; there is nothing left to say."""


def said(text: object, style: str = "") -> Text:
    """Return a text fit to print, whatever it holds: no markup is read and no control sent on."""
    return Text(printable(text), style)


def said_lines(lines: Iterable[str]) -> Text:
    """Return lines below each other, each fit to print."""
    return Text("\n").join(said(line) for line in lines)


def command(line: str) -> Text:
    """Return a command to run, which is never wrapped, so that it can be copied whole."""
    return Text(f"  {printable(line)}", "bold", no_wrap=True, overflow="ignore")


def drawn(blocks: str) -> Text:
    """Return what is drawn in block letters, line by line as it is."""
    return Text(blocks.rstrip("\n"), no_wrap=True, overflow="ignore")


def can_draw() -> bool:
    """Return whether stdout has block letters."""
    try:
        "█▀▄".encode(sys.stdout.encoding or "ascii")
    except UnicodeEncodeError:
        return False
    return True


def console() -> Console:
    """Return a console on stdout: plain in a pipe, as wide as the terminal otherwise."""
    width = None
    if not sys.stdout.isatty() and not os.environ.get("COLUMNS", "").isdigit():
        width = _WIDTH_OF_A_PIPE
    return Console(width=width, markup=False, highlight=False, emoji=False)


def show(*parts: RenderableType) -> None:
    """Print parts of a page below each other."""
    show_as_it_comes(parts)


def show_as_it_comes(parts: Iterable[RenderableType]) -> None:
    """Print parts of a page below each other while they are found; little is held at once."""
    page, signs = console(), Signs.of(sys.stdout.encoding)
    waiting = iter(parts)
    while some := tuple(islice(waiting, _AT_A_TIME)):
        lines = "".join(_laid_out(page, part, signs) for part in some).split("\n")
        write("\n".join(line.rstrip() for line in lines))


def _laid_out(page: Console, part: RenderableType, signs: Signs) -> str:
    fit = said(part) if isinstance(part, str) else part
    is_pipe = page.width == _WIDTH_OF_A_PIPE and page.color_system is None
    as_it_is = _as_it_is(fit, signs) if is_pipe else None
    if as_it_is is not None:
        return as_it_is
    with page.capture() as captured:
        for line in fitted(fit, page.width, signs):
            page.print(line, soft_wrap=True)  # it is as wide as it is to be
    return captured.get()


def _as_it_is(part: RenderableType, signs: Signs) -> str | None:
    """Return a text that needs no laying out, for nothing in it is coloured or wrapped.

    Laying out is what takes longest of a long page.
    """
    indent = 0
    if isinstance(part, Padding) and not (part.top or part.right or part.bottom):
        indent, part = part.left, part.renderable
    if not isinstance(part, Text):
        return None
    words = part if part.no_wrap else signs.words(part)
    lines = words.plain.split("\n")
    if any(indent + 2 * len(line) > _WIDTH_OF_A_PIPE for line in lines):
        return None
    return "".join(f"{' ' * indent}{line}\n" for line in lines)


def write(text: str) -> None:
    """Write text to stdout; raises ReaderGone when nobody reads any more."""
    clear()
    try:
        sys.stdout.write(text)
        sys.stdout.flush()
    except BrokenPipeError:
        raise ReaderGone from None


def note(text: object) -> None:
    """Write one line to stderr, beside what a program may read on stdout."""
    clear()
    print(fit_for_stderr(printable(text)), file=sys.stderr, flush=True)


def fit_for_stderr(line: str) -> str:
    """Return a line wrapped between words where stderr is a terminal, as it is elsewhere."""
    if not sys.stderr.isatty():
        return line
    width = Console(stderr=True).width
    return "\n".join(each.plain for each in wrapped(Text(line), width))
