"""Amounts as makers give them, and angles at corners and across seams that should run smoothly."""

from itertools import pairwise

from hypothesis import strategies as st

from trueup.geometry.lines.points import degrees_between
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece


def corner_degrees(piece: Piece, corner: str) -> float:
    """Return the angle between the two edges that meet at a corner."""
    after = next(edge for edge in piece.edges if edge.starts_at == corner)
    before, _ = piece.neighbours(after.name)
    return degrees_between(-before.parts[-1].end_tangent, after.parts[0].start_tangent)


def across_the_shoulder(draft: Draft, corner: str) -> float:
    """Return the two corner angles of front and back added up: 180 for a smooth run."""
    return sum(corner_degrees(draft.piece(name), corner) for name in ("front", "back"))


def across_the_sleeve_seam(draft: Draft) -> float:
    """Return the two corner angles of the cap added up: 180 where it runs on across the seam."""
    sleeve = draft.piece("sleeve")
    return sum(corner_degrees(sleeve, corner) for corner in ("front-underarm", "back-underarm"))


def sharpest_bend(piece: Piece, edge: str) -> float:
    """Return by how many degrees an edge turns at most where two of its curves meet."""
    chains = piece.edge(edge).parts
    joins = ((a, b) for chain in chains for a, b in pairwise(chain.cubics))
    return max((degrees_between(a.tangent(1.0), b.tangent(0.0)) for a, b in joins), default=0.0)


def amounts(low: float, high: float) -> st.SearchStrategy[float]:
    """Draw lengths in mm to a hundredth: far finer than a pencil, far coarser than a rounding."""
    return st.integers(round(low * 100), round(high * 100)).map(lambda hundredths: hundredths / 100)
