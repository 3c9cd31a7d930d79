"""The lines of a drawing, whatever it was read from: an SVG, a DXF or a photograph.

Lengths are mm, points lie on a page with x to the right and y DOWN. What a source says of a line
(the name of its layer, a text beside it) is kept as it was written; nothing is made of it here.
"""

from dataclasses import dataclass
from enum import StrEnum

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point


class Told(StrEnum):
    """What the source itself says a line or a point is, as by a layer of ASTM D6673."""

    BOUNDARY = "boundary"
    SEW = "sew"
    INTERNAL = "internal"
    MIRROR = "mirror"
    GRAIN = "grain"
    NOTCH = "notch"
    DRILL = "drill"


@dataclass(frozen=True)
class Shape:
    """One line of a drawing: a chain of cubics, mm on the page, closed or open.

    `id` is what its file calls it, told apart from all others of the file; `place` says in words
    where in the file it stands. `groups` are the names of the layers and groups it lies in, the
    outermost first, `labels` what was written on the line itself. `corners` are points at which
    the source states that the line turns; where it states none, the line is to be looked at.
    A closed line ends exactly where it starts.
    """

    id: str
    chain: Chain
    is_closed: bool
    groups: tuple[str, ...] = ()
    labels: tuple[str, ...] = ()
    place: str = ""
    told: Told | None = None
    corners: tuple[Point, ...] = ()

    @property
    def length(self) -> float:
        """Return its length, mm."""
        return self.chain.length


@dataclass(frozen=True)
class Text:
    """A text on the page, where it begins; a text of several lines is one for each line."""

    says: str
    at: Point
    groups: tuple[str, ...] = ()


@dataclass(frozen=True)
class Spot:
    """A single point of a drawing, such as a notch or a drill hole."""

    id: str
    at: Point
    groups: tuple[str, ...] = ()
    told: Told | None = None


@dataclass(frozen=True)
class ShapePage:
    """All that was read from a source.

    `size` says in words how its units were taken for mm, for the maker to look at, and `is_sized`
    whether the source states that; `notes` say what was left out and why, a sentence each.
    `is_mirrored` says that all its texts read backwards, so that left is perhaps right.
    """

    shapes: tuple[Shape, ...]
    texts: tuple[Text, ...] = ()
    spots: tuple[Spot, ...] = ()
    size: str = ""
    is_sized: bool = True
    notes: tuple[str, ...] = ()
    is_mirrored: bool = False
