"""Draw the edges of a piece with as few curves as show them."""

from dataclasses import replace

from trueup.geometry.lines.fewer import with_fewer_curves
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece


def refitted(piece: Piece, *edges: str) -> Piece:
    """Return a piece with some of its edges drawn with fewer curves, alike to the eye."""
    return piece.with_edges(*(_refitted(piece.edge(name)) for name in edges))


def _refitted(edge: Edge) -> Edge:
    return replace(edge, parts=tuple(with_fewer_curves(part) for part in edge.parts))
