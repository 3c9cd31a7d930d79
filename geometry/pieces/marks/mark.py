"""Marks inside a piece: points and lines, placed from a named place so that they follow it.

As a notch is kept by its way along an edge, a mark is kept by its way from an edge, a level, or a
dart, never by where it lies on the table: whatever moves that place moves the mark with it.
`geometry/marking` tells where a mark lies.
"""

from dataclasses import dataclass
from enum import StrEnum

from msgspec import Struct

from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.position import Position


class Purpose(StrEnum):
    """What a mark is for."""

    HOLE = "hole"
    """A hole that is drilled through all layers, to be found again when they are sewn."""

    BUTTON = "button"
    BUTTONHOLE = "buttonhole"

    PLACEMENT = "placement"
    """A line to which another piece is laid and sewn."""

    FOLD = "fold"
    """A line along which the cloth is turned."""

    STITCH = "stitch"
    """A line that is sewn through the piece."""

    SLIT = "slit"
    """A line that is cut."""

    NOTCH = "notch"
    """A notch where no sewn length can tell of it: at either side of a dart's mouth."""


class OnEdge(Struct, frozen=True, tag="edge"):
    """A place on an edge. From there `along` is away from the corner it is measured from."""

    edge: str
    at: Position


class AtLevel(Struct, frozen=True, tag="level"):
    """Where a level meets an edge, or so far down from there along it, mm; negative is up.

    From there `along` is down the page.
    """

    edge: str
    level: str
    down: float = 0.0


class AtTip(Struct, frozen=True, tag="tip"):
    """The tip of a dart, the upper one of two. From there `along` is towards its mouth.

    A dart inside a piece has a `lower` tip, too.
    """

    dart: str
    lower: bool = False


class AtMouth(Struct, frozen=True, tag="mouth"):
    """A side of the mouth of a dart on an edge, the first in ring order unless `second`.

    From there `along` is away from the dart, along the edge.
    """

    dart: str
    second: bool = False


class BesideEdge(Struct, frozen=True, tag="beside"):
    """All along an edge, `inside` it by so much, mm; negative outside, in its allowance."""

    edge: str
    inside: float


MarkPlace = OnEdge | AtLevel | AtTip | AtMouth | BesideEdge

Runs = tuple[tuple[Point, ...], ...]
"""Points one by one, or lines through several."""


@dataclass(frozen=True)
class InnerMark:
    """A mark with a name and a purpose.

    `runs` are seen from its place, mm: the real part of a point is how far it lies along, the
    imaginary part how far square to that, into the piece. A run of one point is a point, one of
    several a line through them. What lies beside an edge has none: it runs as the edge does.
    """

    name: str
    purpose: Purpose
    place: MarkPlace
    runs: Runs = ((0j,),)

    @property
    def dart(self) -> str | None:
        """Return the dart it is a mark of, if it is one."""
        return self.place.dart if isinstance(self.place, AtTip | AtMouth) else None
