"""Which side of the body a piece is drawn for, as it lies with the right side of the cloth up.

Seen from outside, a left front has its centre to the left and a left back to the right; a left
sleeve, the arm hanging down, has its front seam to the left (common practice, no source: it follows
from how a garment is looked at).
"""

from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.side import Side

_LEFT_TO_RIGHT = {"front": ("centre", "side"), "back": ("side", "centre")}
_SLEEVE = ("front-seam", "back-seam")


def drawn_for(piece: Piece) -> Side | None:
    """Return the side for which a piece is cut with its drawing up; None where that is not known.

    For the other side it is cut with the drawing down.
    """
    first, last = _LEFT_TO_RIGHT.get(piece.shared_name, _SLEEVE)
    if not {first, last} <= {*piece.edge_names}:
        return None
    apart = _middle(piece.edge(last)).real - _middle(piece.edge(first)).real
    return Side.LEFT if apart > 0 else Side.RIGHT


def _middle(edge: Edge) -> Point:
    return (edge.start + edge.end) / 2
