"""Draw the edges of a piece with as few curves as show them."""

from dataclasses import replace

from trueup.geometry.lines.fewer import with_fewer_curves
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece


def refitted(piece: Piece, *edges: str) -> Piece:
    """Return a piece with some of its edges drawn with fewer curves, alike to the eye.

    The piece itself where they have as few as show them.
    """
    drawn = [(piece.edge(name), _refitted(piece.edge(name))) for name in edges]
    fewer = [new for old, new in drawn if new is not old]
    return piece.with_edges(*fewer) if fewer else piece


def _refitted(edge: Edge) -> Edge:
    parts = tuple(with_fewer_curves(part) for part in edge.parts)
    same = all(new is old for new, old in zip(parts, edge.parts, strict=True))
    return edge if same else replace(edge, parts=parts)
