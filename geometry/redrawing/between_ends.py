"""Draw an edge anew between its own ends, its darts closed meanwhile."""

from collections.abc import Callable

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import cross, unit
from trueup.geometry.pieces.closed_line import closed, reshaped
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.sound import require_cloth, require_sound
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT


def drawn_between_ends(piece: Piece, edge: str, redraw: Callable[[Chain], Chain]) -> Piece:
    """Return a piece with one edge drawn anew; `redraw` is given the line with its darts closed.

    Raises DoesNotFit for an edge on the fold, where a dart no longer meets the line, and where the
    outline would cross itself or too little cloth would be left.
    """
    old, by_hand = piece.edge(edge), said("redraw-by-hand")
    if piece.fold == edge:
        raise DoesNotFit(said("fold-stays-straight"), said("name-another-edge"))
    if abs(old.end - old.start) < SAME_POINT:
        raise DoesNotFit(said("ends-are-one"), said("move-apart"))
    try:
        changed = piece.with_edges(reshaped(old, redraw))
    except DoesNotFit as missed:
        raise DoesNotFit(missed.reason, by_hand, edge=edge, dart=missed.dart) from missed
    require_sound(changed, edge, by_hand)
    require_cloth(piece, changed, edge, by_hand)
    return changed


def is_straight(edge: Edge) -> bool:
    """Return whether an edge, its darts closed, is a straight line."""
    line = closed(edge).chain
    if abs(line.end - line.start) < SAME_POINT:
        return False
    along = unit(line.end - line.start)
    points = (point - line.start for cubic in line.cubics for point in cubic)
    return all(abs(cross(along, point)) < SAME_POINT for point in points)
