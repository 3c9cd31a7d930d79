"""The leg of trousers: what its edges and corners are called, and which pieces are legs."""

from trueup.geometry.errors import NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece

SIDE, HEM, INSEAM, CROTCH, WAIST = "side", "hem", "inseam", "crotch", "waist"
FORK = "fork"
"""The corner at which the crotch meets the inseam."""

LEGS = "legs"
"""What the pieces of trousers are called together."""


def is_leg(piece: Piece) -> bool:
    """Return whether a piece is the front or the back of a trouser leg."""
    return {SIDE, HEM, INSEAM, CROTCH, WAIST} <= {*piece.edge_names}


def leg_pieces(draft: Draft) -> tuple[Piece, ...]:
    """Return the pieces that are legs of trousers; raises NoSuchName where there are none."""
    legs = tuple(piece for piece in draft.pieces if is_leg(piece))
    if not legs:
        raise NoSuchName("edge", INSEAM, "this draft", draft.piece_names)
    return legs
