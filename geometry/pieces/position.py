"""Positions as a maker measures them: so far along an edge from a named corner."""

import math
import re
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from trueup.geometry.errors import BadPosition, NoSuchName
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT
from trueup.geometry.units import Unit, format_length, parse_length, write_length

if TYPE_CHECKING:
    from trueup.geometry.pieces.edge import Edge

_CORNER = re.compile(r"[a-z][a-z0-9-]*")
_SHARE = re.compile(r"^(?P<percent>[0-9]+(?:[.,][0-9]+)?)\s*%$")


def point_in_words(corner: str) -> str:
    """Return the name of a corner as a maker would say it.

    >>> point_in_words("shoulder-point")
    'the shoulder point'
    """
    return f"the {corner.replace('-', ' ')}"


@dataclass(frozen=True)
class Position:
    """A place on an edge: `distance` sewn mm, or `share` of its sewn length, from a corner.

    Exactly one of the two is set. Written `60mm from underarm` or `40% from underarm`.
    """

    corner: str
    distance: float | None = None
    share: float | None = None

    def __post_init__(self) -> None:
        if (self.distance is None) == (self.share is None):
            text = f"{self.distance} mm and {self.share} from {self.corner}"
            raise BadPosition(text, said("distance-or-share"))
        if self.distance is not None and not 0 <= self.distance < math.inf:
            written = said("distance-from", distance=self.distance, corner=self.corner)
            raise BadPosition(written, said("distance-not-negative"))
        if self.share is not None and not 0 <= self.share <= 1:
            text = f"{self.share * 100:g}% from {self.corner}"
            raise BadPosition(text, said("share-range"))

    @classmethod
    def parse(cls, text: str, default: Unit = Unit.MILLIMETRE) -> "Position":
        """Return the position a maker wrote; raises BadPosition, or BadLength for the amount."""
        # Word by word, for a pattern that may begin in any of many blanks never comes to its end.
        *amount, between, corner = ("", "", *text.lower().split())
        written = " ".join(amount).strip()
        if between != "from" or not written or not _CORNER.fullmatch(corner):
            raise BadPosition(text, said("write-position"))
        percent = _SHARE.match(written)
        if percent:
            share = Decimal(percent["percent"].replace(",", ".")).scaleb(-2)
            return cls(corner, share=float(share))
        return cls(corner, distance=parse_length(written, default))

    def __str__(self) -> str:
        if self.share is not None:
            percent = Decimal(repr(float(self.share))).scaleb(2)
            return f"{percent.normalize():f}% from {self.corner}"
        return f"{write_length(self.distance or 0.0)} from {self.corner}"

    def in_words(self, unit: Unit) -> str:
        """Return the place as a maker would say it, a distance in `unit`.

        >>> Position("shoulder-point", share=0.55).in_words(Unit.MILLIMETRE)
        '55% of the way from the shoulder point'
        >>> Position("underarm", distance=60.0).in_words(Unit.CENTIMETRE)
        '6 cm from the underarm'
        """
        point = point_in_words(self.corner)
        if not (self.share or self.distance):
            return f"right at {point}"
        if self.share is None:
            return f"{format_length(self.distance or 0.0, unit)} from {point}"
        return f"{str(self).partition('%')[0]}% of the way from {point}"

    def along(self, edge: "Edge") -> float:
        """Return the sewn length from the edge's start, mm.

        Raises NoSuchName when the corner is no end of the edge, BadPosition when it is too short.
        """
        if self.corner not in (edge.starts_at, edge.ends_at):
            raise NoSuchName("corner", self.corner, edge.name, (edge.starts_at, edge.ends_at))
        total = edge.length
        distance = self.share * total if self.share is not None else self.distance or 0.0
        if distance > total + SAME_POINT:
            raise BadPosition(str(self), said("edge-only", edge=edge.name, length=total))
        distance = min(distance, total)
        return distance if self.corner == edge.starts_at else total - distance

    def moved_to(self, edge: "Edge", along: float) -> "Position":
        """Return the place at a sewn length from the edge's start, mm, told from the same corner.

        Raises BadPosition where that lies beyond the corner.
        """
        from_start = self.corner == edge.starts_at
        return Position(self.corner, distance=along if from_start else edge.length - along)
