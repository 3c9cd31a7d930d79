"""Words below a picture: lines of text, and conflicts numbered by the sign they have above."""

from collections.abc import Iterator, Sequence

from trueup.cli.drawing.scene.scene import Item, Mark, Sign, Words
from trueup.geometry.lines.points import Point

LINE = 1.6
"""So many letters high is one line of text."""


def lines_of_text(
    lines: Sequence[str], at: Point, size: float, *, bold: bool = False
) -> Iterator[Item]:
    """Yield lines below each other, the first on a point; letters are `size` high."""
    for count, line in enumerate(lines):
        yield Words(line, at + 1j * LINE * count * size, size, bold=bold)


def numbered(number: int, lines: Sequence[str], at: Point, size: float) -> Iterator[Item]:
    """Yield lines behind the sign and number of a conflict."""
    yield Mark(number, at + complex(1.0, -0.35) * size, 0.6 * size, sign=Sign.WARNING)
    yield from lines_of_text(lines, at + 3 * size, size)
