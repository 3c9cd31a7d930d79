"""The lines of a drawing that have no name, with what they look like, for the maker to name."""

from collections.abc import Sequence

from trueup.cli.amounts import length
from trueup.cli.render.table import PlainTable
from trueup.geometry.lines.points import Point
from trueup.geometry.units import Unit
from trueup.lineage.drawings.tracing.trace import Unnamed


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
