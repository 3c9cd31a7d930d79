"""What a maker pinned, let out or chalked on a garment.

    front.shoulder=6mm          so much, at an edge, a corner, a dart, a seam or a level
    front.hem=10mm@30%          besides, where along the edge, from its start
    front.armhole=5mm@60mm from underarm

What each stands for is said in pin_rules.py.
"""

import re
from dataclasses import dataclass
from enum import StrEnum

from trueup.geometry.errors import BadParameter
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length, parse_length, write_length

_FORM = re.compile(r"^\s*(?P<place>[^=@\s]+)\s*=\s*(?P<amount>[^@]+?)\s*(@\s*(?P<at>.+?)\s*)?$")


class How(StrEnum):
    """How an amount was found on the garment."""

    PINNED = "pinned"
    LET_OUT = "let-out"
    CHALKED = "chalked"


@dataclass(frozen=True)
class Pin:
    """An amount found at a place, mm and above 0; `at` is where along the edge, as written."""

    how: How
    place: str
    amount: float
    at: str = ""

    @classmethod
    def read(cls, how: How, text: str, unit: Unit) -> "Pin":
        """Return what a maker wrote; raises BadParameter, or BadLength for the amount."""
        form = _FORM.match(text)
        if not form:
            raise BadParameter(how.value, text, said("write-pin"))
        amount = parse_length(form["amount"], unit)
        if amount <= 0:
            raise BadParameter(how.value, text, said("above-nought-or-let-out"))
        return cls(how, form["place"].lower(), amount, form["at"] or "")

    def position(self, starts_at: str, unit: Unit) -> Position | None:
        """Return where along an edge it lies, from the edge's start unless it says from where.

        None where it says nothing; raises BadPosition, BadLength.
        """
        if not self.at:
            return None
        written = self.at if " from " in self.at else f"{self.at} from {starts_at}"
        return Position.parse(written, unit)

    def said(self, unit: Unit) -> str:
        """Return it in words: `front.side pinned 8 mm`."""
        where = f" at {self.at}" if self.at else ""
        return f"{self.place} {self.how.value} {format_length(self.amount, unit)}{where}"

    @property
    def written(self) -> str:
        """Return it as it can be given again."""
        at = f"@{self.at}" if self.at else ""
        return f"{self.place}={write_length(self.amount)}{at}"
