"""What is drawn: lines in one of a few pens, words and black areas. Lengths in mm, y down."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import Enum
from functools import cached_property

from trueup.cli.sheet.ink.letters import width_of
from trueup.geometry.lines.points import Motion, Point


class InkPen(Enum):
    """How a line is drawn: its width, and its dashes (drawn, left out, ...), mm."""

    CUT = (0.5, ())
    SEAM = (0.3, (5.0, 1.5))
    FOLD = (0.4, (12.0, 2.0, 2.0, 2.0))
    MEETS = (0.4, (2.0, 2.0, 12.0, 2.0))
    DART = (0.3, (3.0, 1.5))
    PLEAT = (0.3, (8.0, 2.0))
    LAID = (0.3, (1.0, 2.0))
    STITCHED = (0.3, ())
    GRAIN = (0.35, ())
    NOTCH = (0.45, ())
    MARK = (0.3, ())
    PLACED = (0.3, (2.0, 2.0))
    TURNED = (0.3, (8.0, 2.0, 2.0, 2.0))
    TURNED_UP = (0.2, (0.6, 1.8))
    LEVEL = (0.2, (3.0, 1.0))
    CHANGED = (0.2, ())
    MATCH = (0.3, ())
    FRAME = (0.1, ())
    BORDER = (0.15, (1.0, 2.0))
    TEST = (0.25, ())
    RULE = (0.22, ())
    FORMER = (0.35, (0.2, 1.4))

    def __init__(self, width: float, dashes: tuple[float, ...]) -> None:
        self.width = width
        self.dashes = dashes

    @property
    def colour(self) -> tuple[float, float, float]:
        """Return its ink: black."""
        return 0.0, 0.0, 0.0


@dataclass(frozen=True)
class SizePen:
    """How the lines of one of several sizes are drawn: width and dashes, mm, and its ink (RGB)."""

    width: float
    dashes: tuple[float, ...]
    colour: tuple[float, float, float]


@dataclass(frozen=True)
class Stroke:
    """A polyline in one pen."""

    points: tuple[Point, ...]
    pen: InkPen | SizePen

    def moved(self, motion: Motion) -> "Stroke":
        """Return the line after a rigid motion."""
        turn, shift = motion.rotation, motion.shift
        return Stroke(tuple([turn * p + shift for p in self.points]), self.pen)


@dataclass(frozen=True)
class MovedLines:
    """What of the lines drawn of a piece lies elsewhere than in another version of it.

    `former` is where the lines lay, `redrawn` where they lie now; both in the frame of the piece.
    """

    former: tuple[Stroke, ...] = ()
    redrawn: tuple[Stroke, ...] = ()


NOTHING_MOVED = MovedLines()


@dataclass(frozen=True)
class Filled:
    """A black area: its outline, and those of the holes in it, each closed of itself."""

    rings: tuple[tuple[Point, ...], ...]

    def moved(self, motion: Motion) -> "Filled":
        """Return the area after a rigid motion."""
        return Filled(tuple(tuple(motion(p) for p in ring) for ring in self.rings))


@dataclass(frozen=True)
class InkWords:
    """One line of words: where its first letter stands, its size, and which way it runs.

    It runs across the page unless it has another `way`, a direction of length one.
    """

    text: str
    at: Point
    size: float
    bold: bool = False
    way: complex = 1 + 0j

    @property
    def width(self) -> float:
        """Return how long the line of words is."""
        return width_of(self.text, self.size, self.bold)

    @cached_property
    def corners(self) -> tuple[Point, ...]:
        """Return the four corners of the room that the words take up."""
        up, down = -0.95 * self.size * 1j, 0.25 * self.size * 1j
        there = (up, up + self.width, down + self.width, down)
        return tuple(self.at + self.way * corner for corner in there)

    def moved(self, motion: Motion) -> "InkWords":
        """Return the words after a rigid motion of their place; they still run the same way."""
        return replace(self, at=motion(self.at))


@dataclass(frozen=True)
class Drawing:
    """Lines, words and black areas that belong together."""

    strokes: tuple[Stroke, ...] = ()
    words: tuple[InkWords, ...] = ()
    filled: tuple[Filled, ...] = ()

    def moved(self, motion: Motion) -> "Drawing":
        """Return the drawing after a rigid motion."""
        return Drawing(
            tuple(stroke.moved(motion) for stroke in self.strokes),
            tuple(words.moved(motion) for words in self.words),
            tuple(area.moved(motion) for area in self.filled),
        )

    def __add__(self, other: "Drawing") -> "Drawing":
        return Drawing(
            self.strokes + other.strokes, self.words + other.words, self.filled + other.filled
        )


def joined(drawings: Iterable[Drawing]) -> Drawing:
    """Return several drawings as one."""
    each = tuple(drawings)
    return Drawing(
        tuple(stroke for drawing in each for stroke in drawing.strokes),
        tuple(words for drawing in each for words in drawing.words),
        tuple(area for drawing in each for area in drawing.filled),
    )


def rectangle(left: float, top: float, width: float, height: float, pen: InkPen) -> Stroke:
    """Return the outline of a rectangle."""
    corner = complex(left, top)
    across, down = complex(width, 0), complex(0, height)
    return Stroke((corner, corner + across, corner + across + down, corner + down, corner), pen)


def centred(text: str, at: Point, size: float, bold: bool = False) -> InkWords:
    """Return words whose middle stands at a point."""
    return InkWords(text, at - width_of(text, size, bold) / 2 + 0.35j * size, size, bold)
