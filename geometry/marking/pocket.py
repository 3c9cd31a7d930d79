"""The outline of a patch pocket: its mouth above, its lower edge square, rounded or pointed.

Lengths in mm; the mouth begins at nought and runs to the right.
"""

from dataclasses import dataclass
from enum import StrEnum

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_join
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Piece
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT, SHORTEST_LEFT

MOUTH, LOWER = "mouth", "lower-edge"
INNER, OUTER = "inner-edge", "outer-edge"


class Lower(StrEnum):
    """How the lower edge of a pocket is drawn."""

    SQUARE = "square"
    ROUNDED = "rounded"
    POINTED = "pointed"


@dataclass(frozen=True)
class PatchPocket:
    """A patch pocket: as wide as its mouth, as high as it is at its lowest.

    `by` is the radius of its rounded corners, or how far its point lies below its sides.
    """

    width: float
    height: float
    lower: Lower
    by: float

    def __post_init__(self) -> None:
        if self.lower is Lower.SQUARE:
            return
        most = self.height - SHORTEST_LEFT
        if self.lower is Lower.ROUNDED:
            most = min(most, self.width / 2)
        if self.by > most:
            raise DoesNotFit(said("nothing-left"), said("use-at-most", by=most), largest=most)

    @property
    def _deep(self) -> float:
        """Return how far the lower edge reaches below the ends of the sides."""
        return 0.0 if self.lower is Lower.SQUARE else self.by

    def piece(self, name: str, hem: float, around: float) -> Piece:
        """Return it as a piece, with `hem` cut beyond its mouth and `around` beyond the rest."""
        left, right = complex(0, self.height - self._deep), complex(self.width, 0)
        low = right + left
        edges = (
            Edge(MOUTH, "mouth-inner", "mouth-outer", (Chain.line(0j, right),)),
            Edge(OUTER, "mouth-outer", "lower-outer", (Chain.line(right, low),)),
            Edge(LOWER, "lower-outer", "lower-inner", (self._lower_edge(low, left),)),
            Edge(INNER, "lower-inner", "mouth-inner", (Chain.line(left, 0j),)),
        )
        middle = right / 2
        down = 1j * self.height
        grain = Grainline(middle + 0.15 * down, middle + 0.75 * down)
        bare = Piece(name, edges, grainline=grain)
        return allowed(bare, {MOUTH: hem, OUTER: around, LOWER: around, INNER: around})

    def outline(self) -> tuple[Point, ...]:
        """Return the ring of its points, the last the first again."""
        points = [p for edge in self.piece("", 0, 0).edges for p in edge.parts[0].flattened()[1:]]
        return (points[-1], *points)

    def _lower_edge(self, start: Point, end: Point) -> Chain:
        if self.lower is Lower.SQUARE:
            return Chain.line(start, end)
        if self.lower is Lower.POINTED:
            return Chain.line(start, complex(self.width / 2, self.height), end)
        by = self.by
        first, last = start + complex(-by, by), end + complex(by, by)
        arcs = [smooth_join(start, 1j, first, -1 + 0j), smooth_join(last, -1 + 0j, end, -1j)]
        if abs(first - last) < SAME_POINT:
            return Chain.joining([arcs[0], arcs[1].starting_at(first)])
        return Chain.joining([arcs[0], Chain.line(first, last), arcs[1]])
