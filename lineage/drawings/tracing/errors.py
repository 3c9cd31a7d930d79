"""What is refused of a drawing that a maker wants to trace."""

from dataclasses import dataclass

from trueup.geometry.said import Said, parts
from trueup.lineage.drawings.tracing.trace import Unnamed
from trueup.lineage.errors import BadInput, listed, quoted
from trueup.lineage.errors.root import told

_LONGEST = 120


@dataclass(eq=False)
class CannotTrace(BadInput):
    """A drawing that makes no block: file, reason, and the line where there is one."""

    place: str
    reason: Said | str
    line: str = ""

    @property
    def says(self) -> Said:
        """Return file and line, the reason, and what helps."""
        inside = f" ({quoted(self.line[:_LONGEST])})" if self.line else ""
        named = f"{quoted(self.place)}{inside} cannot be traced: "
        return parts(named, told(self.reason), "; mend the drawing and try again")

    def __str__(self) -> str:
        return f"{self.says}."


@dataclass(eq=False)
class UnnamedLines(BadInput):
    """A drawing with lines that no name says what they are."""

    place: str
    lines: tuple[Unnamed, ...]

    def __str__(self) -> str:
        ids = [line.id[:40] for line in self.lines[:5]]
        more = f" and {len(self.lines) - 5} more" if len(self.lines) > 5 else ""
        return (
            f"{quoted(self.place)} has lines without a name ({listed(ids)}{more}); name each "
            "as piece.edge, or say that they are left out."
        )
