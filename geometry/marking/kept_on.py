"""Which marks of a piece are kept by their way along an edge."""

from trueup.geometry.pieces.marks.mark import OnEdge
from trueup.geometry.pieces.piece import Piece


def marks_kept_on(piece: Piece, edge: str) -> tuple[str, ...]:
    """Return the names of the notches and marks that are measured along an edge of a piece."""
    notches = (notch.name for notch in piece.notches if notch.edge == edge)
    marks = (
        mark.name
        for mark in piece.marks
        if isinstance(mark.place, OnEdge) and mark.place.edge == edge
    )
    return (*notches, *marks)
