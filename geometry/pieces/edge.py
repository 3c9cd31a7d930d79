"""An edge of a piece: one named line, however many darts open on it."""

from dataclasses import dataclass
from itertools import pairwise

from trueup.geometry.errors import BrokenOutline
from trueup.geometry.kept import hashed_once, kept
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.dart import Dart, Mouth
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT


@hashed_once
@dataclass(frozen=True)
class Edge:
    """A named edge from one named corner to the next, in ring order.

    A dart that opens on the edge leaves it in two parts; the edge stays one, and its length skips
    the dart. There is always one part more than there are darts. A `shaped` edge is meant to go in
    and out as no line of its kind otherwise does: a hem that is a shirt-tail.
    """

    name: str
    starts_at: str
    ends_at: str
    parts: tuple[Chain, ...]
    darts: tuple[Dart, ...] = ()
    shaped: bool = False

    def __post_init__(self) -> None:
        if len(self.parts) != len(self.darts) + 1:
            counts = {"parts": str(len(self.parts)), "darts": str(len(self.darts))}
            raise BrokenOutline(said("parts-and-darts", edge=self.name, **counts))

    @property
    def start(self) -> Point:
        """Return the corner point where the edge starts."""
        return self.parts[0].start

    @property
    def end(self) -> Point:
        """Return the corner point where the edge ends."""
        return self.parts[-1].end

    @kept
    def length(self) -> float:
        """Return the sewn length, mm: the sum of the parts, darts skipped."""
        return sum(part.length for part in self.parts)

    @kept
    def mouths(self) -> tuple[Mouth, ...]:
        """Return the mouths of its darts, in ring order."""
        return tuple(
            Mouth(dart, before.end, after.start)
            for dart, (before, after) in zip(self.darts, pairwise(self.parts), strict=True)
        )

    def point_at(self, length: float) -> Point:
        """Return the point so many sewn mm from the start; at a mouth, its first point."""
        return self.place_at(length)[0]

    def place_at(self, length: float) -> tuple[Point, complex]:
        """Return the point so many sewn mm from the start, and the direction of travel there."""
        part = self.parts[0]
        for part in self.parts:
            if length <= part.length + 1e-9:
                break
            length -= part.length
        return part.place_at(length)

    @kept
    def outline(self) -> Chain:
        """Return the edge with its darts cut out: leg in to the tip and leg out again."""
        if not self.darts:
            return self.parts[0]
        runs = [self.parts[0]]
        for mouth, part in zip(self.mouths, self.parts[1:], strict=True):
            if mouth.intake < SAME_POINT:  # a cut takes out nothing
                runs.append(part.starting_at(mouth.first))
            else:
                runs += [Chain.line(mouth.first, mouth.tip, mouth.second), part]
        return Chain(tuple(c for run in runs for c in run.cubics))

    @kept
    def swept_area(self) -> float:
        """Return ½∮(x dy − y dx) along the edge, darts cut out, mm²."""
        return self.outline.swept_area

    @kept
    def outline_points(self) -> tuple[Point, ...]:
        """Return the flattened outline of the edge, darts cut out, without its first point."""
        return tuple(self.outline.flattened()[1:])
