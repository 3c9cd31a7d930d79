"""A plain table: a head, rows, and no lines; on a narrow terminal every row becomes a block.

Numbers and names are never cut off nor broken. Only columns of words are wrapped.
"""

from collections.abc import Iterable, Iterator, Sequence

from rich.cells import cell_len
from rich.console import Console, ConsoleOptions, RenderResult
from rich.text import Text

from trueup.cli.page import said
from trueup.cli.terminal.typesetting import Signs
from trueup.cli.terminal.wrapping import indented, widest_word, wrapped

Cell = str | Text

_GAP = 2
_LEAST_OF_WORDS = 24  # what a column of words needs at least: the id of a conflict and its state
_BETWEEN = 3  # what parts the cells of a block that stand on one line


class PlainTable:
    """Rows under column heads; the first column names the row. `right` are columns of numbers."""

    def __init__(
        self, heads: Sequence[str], rows: Iterable[Sequence[Cell]], right: Sequence[str] = ()
    ) -> None:
        self.heads = tuple(heads)
        self.rows = tuple(tuple(_text(cell) for cell in row) for row in rows)
        self.right = right

    def fitted(self, width: int, signs: Signs) -> Iterator[Text]:
        """Yield the lines of the table, or its rows as blocks where it would not fit the width."""
        heads = [signs.line(head) for head in self.heads]
        rows = [[signs.words(cell) for cell in row] for row in self.rows]
        widths = self._widths(heads, rows, width)
        if widths is not None:
            yield from self._table(heads, rows, widths)
            return
        for row in rows:
            yield from _block(heads, row, width)

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        """Yield the table as it is laid out on any console."""
        del console
        yield from self.fitted(options.max_width, Signs(are_real=False))

    def _widths(
        self, heads: Sequence[str], rows: Sequence[Sequence[Text]], width: int
    ) -> list[int] | None:
        """Return how wide each column is, None where they cannot stand beside each other."""
        whole, least = [], []
        for place, head in enumerate(heads):
            cells = [row[place] for row in rows]
            lines = (line for cell in cells for line in cell.plain.split("\n"))
            whole.append(max([cell_len(head), *map(cell_len, lines)]))
            word = max([cell_len(head), *map(widest_word, cells)])
            is_number = self.heads[place] in self.right
            least.append(whole[-1] if is_number else max(word, min(whole[-1], _LEAST_OF_WORDS)))
        room = width - _GAP * (len(heads) - 1)
        if sum(least) > room:
            return None
        while sum(whole) > room:
            loose = [place for place, each in enumerate(whole) if each > least[place]]
            whole[max(loose, key=lambda place: whole[place])] -= 1
        return whole

    def _table(
        self, heads: Sequence[str], rows: Sequence[Sequence[Text]], widths: Sequence[int]
    ) -> Iterator[Text]:
        yield self._line([Text(head, "bold") for head in heads], widths)
        for row in rows:
            cells = [wrapped(cell, width) for cell, width in zip(row, widths, strict=True)]
            for number in range(max(map(len, cells))):
                line = [cell[number] if number < len(cell) else Text() for cell in cells]
                yield self._line(line, widths)

    def _line(self, cells: Sequence[Text], widths: Sequence[int]) -> Text:
        line = Text()
        for head, cell, width in zip(self.heads, cells, widths, strict=True):
            space = " " * (width - cell_len(cell.plain))
            if head in self.right:
                line.append(space).append_text(cell)
            else:
                line.append_text(cell).append(space)
            line.append(" " * _GAP)
        line.rstrip()
        return line


def _block(heads: Sequence[str], row: Sequence[Text], width: int) -> Iterator[Text]:
    """Yield a row as its name and, below it, every other cell behind its head."""
    yield from wrapped(row[0], width)
    line = Text()
    for head, cell in zip(heads[1:], row[1:], strict=True):
        if not cell.plain.strip():
            continue
        pair = Text(f"{head}: " if head else "").append_text(cell)
        both = cell_len(line.plain) + _BETWEEN + cell_len(pair.plain)
        if line.plain and both <= width - 2 * _GAP and "\n" not in line.plain + pair.plain:
            line.append(" " * _BETWEEN).append_text(pair)
            continue
        yield from _below_name(line, width)
        line = pair
    yield from _below_name(line, width)


def _below_name(line: Text, width: int) -> Iterator[Text]:
    if not line.plain:
        return
    first, *others = wrapped(line, width - 2 * _GAP)
    yield indented(first, _GAP)
    for other in others:
        yield indented(other, 2 * _GAP)


def _text(cell: Cell) -> Text:
    return said(cell) if isinstance(cell, str) else cell
