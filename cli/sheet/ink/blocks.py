"""Blocks of a text column, flowed into columns of a height. Lengths in mm, y down."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate

from trueup.cli.sheet.ink.drawn import Drawing, InkWords, joined
from trueup.cli.sheet.ink.letters import width_of, wrapped
from trueup.geometry.kept import kept
from trueup.geometry.lines.points import Motion

LETTERS = 3.2
_LEAST_LAST = 10.0
"""How many letters' size the last column of a table has at the least."""

LINE = 1.5
"""From one line to the next, in sizes of the letters."""

NOTHING = Drawing()


@dataclass(frozen=True)
class Block:
    """What stays together on a column: a drawing from nought down to a height.

    `drawn` may be what draws it: who only asks how much room it takes up need not wait for that.
    """

    height: float
    drawn: Drawing | Callable[[], Drawing] = NOTHING
    is_heading: bool = False
    """A heading is not left alone at the end of a column."""

    @kept
    def drawing(self) -> Drawing:
        """Return the drawing."""
        return self.drawn() if callable(self.drawn) else self.drawn


def gap(height: float) -> Block:
    """Return an empty block."""
    return Block(height)


def heading(text: str, size: float = 4.2) -> Block:
    """Return a heading, with room above it."""
    words = InkWords(text, 1j * (size + 3.0), size, bold=True)
    return Block(size * LINE + 3.0, Drawing((), (words,)), is_heading=True)


@lru_cache(maxsize=512)
def paragraph(
    text: str, width: float, size: float = LETTERS, *, bold: bool = False, indent: float = 0.0
) -> tuple[Block, ...]:
    """Return the lines of a text; those after the first are moved in by `indent`."""
    return tuple(
        Block(
            size * LINE,
            Drawing((), (InkWords(line, complex(indent if n else 0.0, size), size, bold),)),
        )
        for n, line in enumerate(wrapped(text, width - indent, size, bold))
    )


def table(rows: Sequence[Sequence[str]], width: float, size: float = LETTERS) -> Iterator[Block]:
    """Yield rows whose cells stand below each other; the last cell takes what room is left.

    Where the others leave it none, the widest of them are wrapped, too.
    """
    if not rows:
        return
    count = len(rows[0])
    natural = [max(width_of(row[n], size) for row in rows) + 2 * size for n in range(count - 1)]
    wide = _narrowed(natural, width - _LEAST_LAST * size)
    wide.append(width - sum(wide))
    for row in rows:
        cells = [
            wrapped(cell, room - (size if n < count - 1 else 0.0), size) or ("",)
            for n, (cell, room) in enumerate(zip(row, wide, strict=True))
        ]
        words = tuple(
            InkWords(line, complex(sum(wide[:n]), size * (1 + LINE * k)), size)
            for n, lines in enumerate(cells)
            for k, line in enumerate(lines)
        )
        yield Block(max(map(len, cells)) * size * LINE, Drawing((), words))


def _narrowed(wide: Sequence[float], room: float) -> list[float]:
    """Return widths of columns, the widest of them all cut to one width, so that they have room."""
    left = room
    for n, least in enumerate(sorted(wide)):
        share = left / (len(wide) - n)
        if least > share:
            return [min(each, share) for each in wide]
        left -= least
    return [*wide]


def together(blocks: Iterable[Block]) -> Block:
    """Return blocks below each other as one, which no column parts."""
    every = tuple(blocks)
    tops = tuple(accumulate((block.height for block in every), initial=0.0))

    def drawn() -> Drawing:
        placed = zip(every, tops, strict=False)
        return joined(block.drawing.moved(Motion(shift=1j * top)) for block, top in placed)

    return Block(tops[-1], drawn)


def flowed(blocks: Iterable[Block], height: float) -> list[Block]:
    """Return blocks below each other in columns of a height."""
    return [together(each) for each in parted(blocks, height)]


def parted(blocks: Iterable[Block], height: float) -> list[list[Block]]:
    """Return which blocks stand in which column of a height."""
    columns: list[list[Block]] = [[]]
    waiting, used = list(blocks), 0.0
    for n, block in enumerate(waiting):
        needed = block.height
        if block.is_heading and n + 1 < len(waiting):
            needed += waiting[n + 1].height
        if used > 0 and used + needed > height:
            columns.append([])
            used = 0.0
        columns[-1].append(block)
        used += block.height
    return columns
