"""What is seen in a drawing, every line with a number by which the maker can name it."""

from dataclasses import dataclass
from enum import StrEnum

from shapely import Polygon

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point
from trueup.geometry.lines.polygons import polygon
from trueup.lineage.drawings.shapes.shape import Told


@dataclass(frozen=True)
class OutlineLine:
    """A line of an outline from one corner to the next, in ring order."""

    number: int
    chain: Chain
    id: str
    labels: tuple[str, ...] = ()


@dataclass(frozen=True)
class Notched:
    """A dart in the outline: from its first mouth point to the tip and back to the edge."""

    number: int
    first: Point
    tip: Point
    second: Point
    labels: tuple[str, ...] = ()

    @property
    def chain(self) -> Chain:
        """Return its two legs."""
        return Chain.line(self.first, self.tip, self.second)


class Looks(StrEnum):
    """What a line inside a piece looks like, or is said to be."""

    GRAIN = "grain"
    FOLD = "fold"
    LEVEL = "level"
    NOTCH = "notch"
    DOUBLE_DART = "double dart"
    HOLE = "drill hole"
    LINE = "line"


@dataclass(frozen=True)
class Inner:
    """A line, or a single point, on a piece; a point is a chain of no length.

    What it `looks` like follows from its form alone (`by_form`), or was written of it.
    """

    number: int
    chain: Chain
    is_closed: bool
    looks: Looks
    id: str
    labels: tuple[str, ...] = ()
    told: Told | None = None
    by_form: bool = False

    @property
    def middle(self) -> Point:
        """Return the middle of the box around it."""
        low, high = self._box
        return (low + high) / 2

    @property
    def size(self) -> float:
        """Return the longer side of the box around it, mm."""
        low, high = self._box
        return max((high - low).real, (high - low).imag)

    @property
    def _box(self) -> tuple[Point, Point]:
        points = self.chain.flattened()
        xs, ys = [p.real for p in points], [p.imag for p in points]
        return complex(min(xs), min(ys)), complex(max(xs), max(ys))


@dataclass(frozen=True)
class FoundPiece:
    """A piece: its outline in ring order, what lies on it, and what was written of it.

    `labels` are names of its outline and its groups, the nearest first; `texts` lie within it.
    """

    ring: tuple[OutlineLine | Notched, ...]
    inner: tuple[Inner, ...]
    labels: tuple[str, ...]
    texts: tuple[tuple[str, Point], ...]
    id: str

    @property
    def sides(self) -> tuple[OutlineLine, ...]:
        """Return the lines of the outline that are no darts."""
        return tuple(line for line in self.ring if isinstance(line, OutlineLine))

    @property
    def darts(self) -> tuple[Notched, ...]:
        """Return the darts in the outline."""
        return tuple(line for line in self.ring if isinstance(line, Notched))

    @property
    def outline(self) -> Polygon:
        """Return the outline, darts cut out."""
        return polygon([p for line in self.ring for p in line.chain.flattened()[1:]])


@dataclass(frozen=True)
class Found:
    """All that is seen in a drawing; `notes` say what was left out, or made of it, and why."""

    pieces: tuple[FoundPiece, ...]
    size: str
    is_sized: bool
    notes: tuple[str, ...]

    @property
    def largest(self) -> float:
        """Return the longest side of the box around any piece, mm."""
        boxes = [piece.outline.bounds for piece in self.pieces]
        return max((max(b[2] - b[0], b[3] - b[1]) for b in boxes), default=0.0)
