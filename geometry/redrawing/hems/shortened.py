"""Cut a piece off at a higher hem, which keeps its shape between its new ends."""

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.drawn_on import end_cut_at_level, reversed_edge
from trueup.geometry.redrawing.hems.hem import cut_off, drawn_between, ends_at_waist
from trueup.geometry.redrawing.move_corner import end_motion, start_motion
from trueup.geometry.said import said


def shortened(piece: Piece, by: float) -> Piece:
    """Return a piece with the ends of its hem `by` mm higher up the two edges that meet it there.

    The hem keeps the angles to both. Raises DoesNotFit where an edge does not come up so far.
    """
    old, upwards = piece.neighbours("hem")
    first = end_cut_at_level(old, old.end.imag - by)
    second = reversed_edge(end_cut_at_level(reversed_edge(upwards), upwards.start.imag - by))
    new_hem = drawn_between(
        piece.edge("hem"),
        end_motion(old, first),
        start_motion(upwards, second),
        first.end,
        second.start,
    )
    return cut_off(piece.with_edges(first, new_hem, second))


def require_below_waist(piece: Piece) -> None:
    """Raise DoesNotFit for a piece that ends at the waist, or in a dart."""
    if piece.edge("hem").darts or ends_at_waist(piece):
        raise DoesNotFit(said("ends-at-waist"), said("shorten-lengthened"), edge="hem")
