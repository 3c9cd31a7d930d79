"""A plain table: a head, rows, and no lines; on a narrow terminal every row becomes a short list.

Numbers and names are wrapped where they must be and never cut off.
"""

from collections.abc import Iterable, Sequence

from rich.console import Console, ConsoleOptions, RenderableType, RenderResult
from rich.measure import Measurement
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from cli.render.page import said

Cell = str | Text


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
        table = self._table()
        if Measurement.get(console, options, table).maximum <= options.max_width:
            yield table
        else:
            yield from self._lists()

    def _table(self) -> Table:
        # The widest a table may ask for must be what its content needs, so nothing may wrap here.
        table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="bold")
        for head in self.heads:
            table.add_column(
                head,
                justify="right" if head in self.right else "left",
                no_wrap=True,
                overflow="ignore",
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
                        yield Padding(words, (0, 0, 0, 2))


def _text(cell: Cell) -> Text:
    return said(cell) if isinstance(cell, str) else cell
