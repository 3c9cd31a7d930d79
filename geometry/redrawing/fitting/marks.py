"""Keep marks where they lie on the paper when an edge is cut short or drawn on at one end."""

from dataclasses import replace

from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Notch, Piece


def with_marks_kept(piece: Piece, old: Edge, *, at_start: bool) -> Piece:
    """Return a piece whose edge became longer or shorter at an end, its notches where they lay.

    `old` is the edge as it was; `at_start` says at which end it changed. A notch that was measured
    from that end comes to lie so much farther from it.
    """
    new = piece.edge(old.name)
    grown = new.length - old.length if at_start else 0.0

    def kept(notch: Notch) -> Notch:
        if notch.edge != old.name:
            return notch
        along = min(max(notch.at.along(old) + grown, 0.0), new.length)
        return replace(notch, at=notch.at.moved_to(new, along))

    return replace(piece, notches=tuple(map(kept, piece.notches)))
