"""Make front and back higher at the side, over a high hip, to nothing at the centre."""

from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.drawn_on import reversed_edge
from trueup.geometry.redrawing.fitting.centre_length import as_long_as, line_at_waist
from trueup.geometry.redrawing.fitting.marks import with_marks_kept
from trueup.geometry.redrawing.hems.hem import WAIST, at_hem, ends_at_waist
from trueup.geometry.redrawing.move_corner import (
    end_cut,
    end_motion,
    evenly,
    start_carried,
    start_cut,
    start_motion,
)

_HEM, _SIDE = "hem", "side"


def with_hip_higher(piece: Piece, by: float) -> Piece:
    """Return a piece for a hip that is so much higher, mm, to nothing at the centre.

    The waist of a skirt rises at the side, and so does the hem of a bodice that ends at the waist;
    the hem of a longer one drops there, for the hip takes up the cloth. Raises DoesNotFit where
    nothing would be left of the side, or a dart no longer meets the line.
    """
    name = line_at_waist(piece)
    line, side = piece.edge(name), piece.edge(_SIDE)
    if name == WAIST:
        longer = start_cut(side, -by)
        back = reversed_edge(line)
        moved = start_carried(back, start_motion(side, longer), longer.start, evenly)
        raised = with_marks_kept(
            piece.with_edges(reversed_edge(moved), longer), side, at_start=True
        )
        return as_long_as(raised, name, line.length)
    longer = end_cut(side, by if ends_at_waist(piece) else -by)
    moved = start_carried(piece.edge(_HEM), end_motion(side, longer), longer.end, evenly)
    hung = with_marks_kept(piece.with_edges(longer, moved), side, at_start=False)
    return at_hem(as_long_as(hung, name, line.length))
