"""The lines of a drawing that have no name, with what they look like, for the maker to name."""

from collections.abc import Sequence

from cli.render.amounts import length
from cli.render.table import PlainTable
from geometry.points import Point
from geometry.units import Unit
from lineage.tracing.trace import Unnamed


def unnamed_table(lines: Sequence[Unnamed], unit: Unit) -> PlainTable:
    """Return one row a line: id, length, from where to where, and lines as long as it is."""
    rows = [
        (
            line.id,
            length(line.length, unit),
            _place(line.start),
            "all round" if line.is_closed else _place(line.end),
            ", ".join(line.mates) or "-",
        )
        for line in lines
    ]
    headings = ("id", "length", "from (mm)", "to (mm)", "as long as")
    return PlainTable(headings, rows, right=("length",))


def _place(point: Point) -> str:
    return f"{point.real:.1f}, {point.imag:.1f}"
