"""Wrap lines between words: no word is broken, and no length is parted from its unit."""

import re
from collections.abc import Iterator

from rich.cells import cell_len
from rich.text import Text

_SPACES = re.compile(r" +")
_TOGETHER = re.compile(
    r"`[^`]*`"  # what is to be typed
    r"|(?<=\d) (?=(?:mm|cm|in|m|yd|degrees|%)(?![A-Za-z]))"
    r"|(?<=\d) (?=\d+/\d)"  # 1 1/2 in
    r"|(?<=->) (?=\S)|(?<=→) (?=\S)"
    r"|(?<= /) (?=[+\-−]?\d)"  # got / wanted
)


def wrapped(text: Text, width: int) -> list[Text]:
    """Return the lines of a text, none wider than `width` unless one of its words is.

    What a line is indented by, so is what it is wrapped into.

    >>> [str(line) for line in wrapped(Text("front.neck is now 12 mm longer"), 17)]
    ['front.neck is now', '12 mm longer']
    """
    return [part for line in text.split("\n", allow_blank=True) for part in _filled(line, width)]


def widest_word(text: Text) -> int:
    """Return how many cells the widest of what is never broken takes."""
    return max(
        (
            indent_of(line) + cell_len(line[start:end])
            for line in text.plain.split("\n")
            for start, end in _words(line)
        ),
        default=0,
    )


def indent_of(line: str) -> int:
    """Return by how many spaces a line is indented."""
    return len(line) - len(line.lstrip(" "))


def indented(text: Text, by: int | str) -> Text:
    """Return a line with so many spaces, or a sign, before it."""
    before = Text(" " * by if isinstance(by, int) else by)
    return before.append_text(text) if before.plain else text


def _filled(line: Text, width: int) -> Iterator[Text]:
    plain = line.plain
    if cell_len(plain) <= width:
        yield line
        return
    indent = indent_of(plain)
    first = last = indent
    for start, end in _words(plain):
        if last > first and indent + cell_len(plain[first:end]) > width:
            yield indented(line[first:last], indent)
            first = start
        last = end
    yield indented(line[first:last], indent)


def _words(line: str) -> Iterator[tuple[int, int]]:
    """Yield where what is never broken starts and ends."""
    together = [each.span() for each in _TOGETHER.finditer(line)]
    start = indent_of(line)
    for gap in _SPACES.finditer(line, start):
        if any(first <= gap.start() < last for first, last in together):
            continue
        yield start, gap.start()
        start = gap.end()
    if start < len(line):
        yield start, len(line)
