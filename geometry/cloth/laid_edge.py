"""An edge of a corrected piece laid on cloth that is cut: what it needs, and what lacks where."""

from dataclasses import dataclass

import numpy as np
from shapely.geometry import Polygon

from trueup.geometry.cloth.areas_moved import Cloth, Lengths, PointLine, moves
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import ENOUGH_CLOTH, UNCHANGED


@dataclass(frozen=True)
class ClothNeed:
    """How much cloth a corrected edge needs around it, and how far it can be let out before, mm."""

    cloth: float
    spare: float


@dataclass(frozen=True)
class LaidEdge:
    """An edge of the corrected piece on the cloth, point by point along its line, mm.

    `moved` is how far it lies outside its old line, negative inside; `depths` how far inside the
    cloth; `lacking` how much cloth lacks there.
    """

    edge: Edge
    line: PointLine
    moved: Lengths
    depths: Lengths
    lacking: Lengths

    @property
    def worst(self) -> float:
        """Return what lacks at worst."""
        return float(self.lacking.max())

    @property
    def place(self) -> Point:
        """Return where it lacks, or else moved, most: its middle where that is alike all along."""
        amounts = self.lacking if self.worst > ENOUGH_CLOTH else np.abs(self.moved)
        most, least = float(amounts.max()), float(amounts.min())
        is_even = np.isinf(most) or most - least <= UNCHANGED
        index = len(amounts) // 2 if is_even else int(np.argmax(amounts))
        return complex(self.line.points[index])


def lying_cloth(cloth: Polygon, old: Piece, new: Piece) -> Cloth:
    """Return cloth as it lies to be sewn: unfolded where the piece was, and is, cut on a fold."""
    if not (old.fold and new.fold):
        return Cloth.unfolded(cloth, None)
    fold = old.edge(old.fold)
    return Cloth.unfolded(cloth, (fold.start, fold.end))


def need_of(lying: Cloth, old: Piece, edge: Edge, least: float, lacked: float = 0.0) -> ClothNeed:
    """Return what an edge needs, which is `least` mm, and no more than it was sewn with.

    Where cloth lacked when it was sewn last, by `lacked` mm at worst, its old line is where it was
    wanted then: it could not even be let out that far.
    """
    if lacked > 0:
        return ClothNeed(least, -lacked)
    if edge.name not in old.edge_names:
        return ClothNeed(least, 0.0)
    line = PointLine.along(old.edge(edge.name))
    depths = lying.depths(line.points)
    had = max(float(np.median(depths)), 0.0)
    # Near its ends the cut of the neighbours is nearer than its own, but not in its middle.
    ends = min(2 * had, 0.4 * line.sewn[-1])
    inner = depths[(line.sewn >= ends) & (line.sewn <= line.sewn[-1] - ends)]
    is_even = had - float(inner.min(initial=had)) < ENOUGH_CLOTH
    return ClothNeed(min(least, had), max(had - least, 0.0) if is_even else 0.0)


def laid_edge(
    lying: Cloth, old: Piece, edge: Edge, line: PointLine, inward: complex, need: ClothNeed
) -> LaidEdge:
    """Return an edge whose seam line lies on the cloth where `line` says."""
    if edge.name in old.edge_names:
        moved = moves(line.points, old.edge(edge.name), inward)
    else:
        moved = np.full(len(line.points), np.inf)
    depths = lying.depths(line.points)
    # A place lacks no more than it moved beyond what its edge could be let out: what lacks besides,
    # at the ends, is the lack of the edge that it meets.
    lacking = np.minimum(need.cloth - depths, moved - need.spare)
    return LaidEdge(edge, line, moved, depths, np.maximum(lacking, 0.0))
