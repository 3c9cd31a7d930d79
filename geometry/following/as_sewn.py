"""Lines of a piece as they are sewn, from one of their corners, and what meets them there."""

from trueup.geometry.lines.chain import Chain
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece


def from_corner(edge: Edge, corner: str) -> Chain:
    """Return an edge, its darts closed, from one of its corners and in the paper beside it."""
    line = closed(edge)
    if edge.starts_at == corner:
        return line.chain
    return line.chain.moved(line.motions[-1].inverse()).ending_at(edge.end).reversed()


def edge_beside(piece: Piece, edge: Edge, corner: str) -> Edge:
    """Return the edge of a piece that meets another at one of its corners."""
    before, after = piece.neighbours(edge.name)
    return before if edge.starts_at == corner else after


def other_corner(edge: Edge, corner: str) -> str:
    """Return the corner of an edge that is not the one named."""
    return edge.ends_at if edge.starts_at == corner else edge.starts_at


def cloth_beside(piece: Piece, edge: Edge, corner: str) -> complex:
    """Return the factor that turns a way along an edge, from a corner, towards the cloth."""
    return piece.inward if edge.starts_at == corner else -piece.inward
