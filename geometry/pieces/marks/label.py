"""What is written on a piece: from which cloth it is cut, how often, and a note."""

from dataclasses import dataclass, replace
from typing import Self

SHELL = "shell"
CLOTHS = (SHELL, "lining", "interfacing", "contrast")
"""What a piece may be cut from, in the order in which it is told."""


@dataclass(frozen=True)
class Label:
    """How often a piece is cut from each cloth, none twice, and a note, empty for none."""

    cut_from: tuple[tuple[str, int], ...] = ()
    note: str = ""

    def counted(self, cloth: str, count: int) -> Self:
        """Return the label with another count of a cloth."""
        counts = {**dict(self.cut_from), cloth: count}
        return replace(self, cut_from=tuple((c, counts[c]) for c in CLOTHS if c in counts))
