"""A plain table: a head, rows, and no lines; on a narrow terminal every row becomes a short list.

Numbers and names are never cut off. Only the last column, which holds words, may be wrapped.
"""

from collections.abc import Iterable, Sequence

from rich.console import Console, ConsoleOptions, RenderableType, RenderResult
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from trueup.cli.page import said

Cell = str | Text

_GAP = 2
_LEAST_OF_WORDS = 24  # what the last column needs at least: the id of a conflict and its state


class PlainTable:
    """Rows under column heads; the first column names the row. `right` are columns of numbers."""

    def __init__(
        self, heads: Sequence[str], rows: Iterable[Sequence[Cell]], right: Sequence[str] = ()
    ) -> None:
        self.heads = tuple(heads)
        self.rows = tuple(tuple(_text(cell) for cell in row) for row in rows)
        self.right = right

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        """Yield the table, or its rows as lists where it would not fit the width."""
        del console
        if self._least_width() <= options.max_width:
            yield self._table()
        else:
            yield from self._lists()

    def _least_width(self) -> int:
        columns = zip(*self.rows, strict=True) if self.rows else [() for _ in self.heads]
        widths: list[int] = [
            max([len(head), *(line.cell_len for cell in column for line in cell.split("\n"))])
            for head, column in zip(self.heads, columns, strict=True)
        ]
        *others, last = widths
        return sum(width + _GAP for width in others) + min(last, _LEAST_OF_WORDS)

    def _table(self) -> Table:
        table = Table(box=None, pad_edge=False, padding=(0, _GAP, 0, 0), header_style="bold")
        for head in self.heads:
            is_last = head == self.heads[-1]
            table.add_column(
                head,
                justify="right" if head in self.right else "left",
                no_wrap=not is_last,
                overflow="fold" if is_last else "ignore",
            )
        for row in self.rows:
            table.add_row(*row)
        return table

    def _lists(self) -> Iterable[RenderableType]:
        for row in self.rows:
            yield row[0]
            for head, cell in zip(self.heads[1:], row[1:], strict=True):
                for line in cell.split("\n"):
                    if line.plain.strip():
                        words = Text.assemble((f"{head} " if head else ""), line)
                        yield Padding(words, (0, 0, 0, _GAP))


def _text(cell: Cell) -> Text:
    return said(cell) if isinstance(cell, str) else cell
