"""What a picture is made of: lines, hatched areas, words, dimensions and numbered marks.

Everything is a value, in mm of the page, x to the right and y down. What a line means is said by
its pen, a width and a dash, never by a colour.
"""

from dataclasses import dataclass, field
from enum import Enum

from shapely.geometry.base import BaseGeometry

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point

Run = Chain | tuple[Point, ...]
"""A stretch of line: curves, or straight from point to point."""


@dataclass(frozen=True)
class Pen:
    """How a line is drawn: its width, and its dashes and gaps, in widths of the seam line."""

    width: float = 1.0
    dashes: tuple[float, ...] = ()


SEAM = Pen()
FOLD = Pen(1.0, (34.3, 8.6, 8.6, 8.6))
CUT = Pen(0.6)
FINE = Pen(0.6)
PLACED = Pen(0.8, (4.0, 4.0))
BOLD = Pen(2.2)
MOVED = Pen(1.9)
OFFENDING = Pen(3.2)
BEFORE = Pen(1.2, (6.0, 4.5))


class Hatch(Enum):
    """The slant of a hatch, which says what the area is."""

    RISING = "rising"
    FALLING = "falling"


class Emphasis(Enum):
    """What a line is drawn to show, beside what it is; its pen says it as well."""

    MOVED = "moved"
    OFFENDING = "offending"


class Anchor(Enum):
    """Which part of a text stands at its place."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


class Sign(Enum):
    """The outline around the number of a mark."""

    DISC = "disc"
    WARNING = "warning"


@dataclass(frozen=True)
class Line:
    """One line, of one or more runs; `opaque` hides what lies under the area it encloses.

    `emphasis` is what it is drawn to show, where that is more than its being there.
    """

    runs: tuple[Run, ...]
    pen: Pen = SEAM
    id: str = ""
    closed: bool = False
    opaque: bool = False
    emphasis: Emphasis | None = None


@dataclass(frozen=True)
class HatchedArea:
    """A hatched area: polygons of shapely, as far as they lie `within` others where it has them."""

    shape: BaseGeometry
    hatch: Hatch
    id: str = ""
    within: BaseGeometry | None = None


@dataclass(frozen=True)
class Words:
    """A line of text whose letters are `size` high; `at` is on the line it is written on."""

    text: str
    at: Point
    size: float
    anchor: Anchor = Anchor.START
    bold: bool = False
    id: str = ""


@dataclass(frozen=True)
class Dimension:
    """A measured distance: a line between two points with a tick square to it at both ends."""

    start: Point
    end: Point
    tick: float
    id: str = ""


@dataclass(frozen=True)
class Mark:
    """A number in a sign, `radius` high above and below its middle, with a leader from a place."""

    number: int
    at: Point
    radius: float
    place: Point | None = None
    sign: Sign = Sign.DISC
    id: str = ""


@dataclass(frozen=True)
class Group:
    """Items that belong together, drawn where a motion puts them; `title` says what they are.

    With a `link` they are the way to another place, of the document that shows the picture. A page
    can switch off what is drawn in a `layer`, and knows the lines of an `edge`, `piece.edge`.
    """

    items: "tuple[Item, ...]"
    id: str = ""
    motion: Motion = field(default_factory=Motion)
    title: str = ""
    link: str = ""
    layer: str = ""
    edge: str = ""

    @property
    def has_links(self) -> bool:
        """Return whether it, or anything in it, is a link."""
        return bool(self.link) or any(isinstance(i, Group) and i.has_links for i in self.items)


Item = Line | HatchedArea | Words | Dimension | Mark | Group


@dataclass(frozen=True)
class Scene:
    """A page of `width` by `height` mm with its title and all that is drawn on it.

    `pen` is the width of a seam line, mm. A picture is for looking at: it takes the ink of light or
    dark surroundings and has a size on the screen. What is no picture is true to scale, in black.
    """

    width: float
    height: float
    title: str
    items: tuple[Item, ...] = field(default=())
    pen: float = 0.35
    is_picture: bool = True

    @property
    def has_links(self) -> bool:
        """Return whether anything in it is a link."""
        return Group(self.items).has_links
