"""Carry the marks of an edge along when it comes to be longer or shorter at one place."""

from dataclasses import replace

from msgspec import structs

from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import InnerMark, OnEdge
from trueup.geometry.pieces.piece import Notch, Piece
from trueup.geometry.pieces.position import Position


def with_marks_moved(piece: Piece, edge: Edge, at: float, by: float) -> Piece:
    """Return a piece with an edge put in place that is `by` mm longer at a length from its start.

    Notches and marks that are kept by their way along it stay where they lie; what lay on what is
    gone lies at the place then.
    """
    old = piece.edge(edge.name)

    def moved(place: Position) -> Position:
        along = place.along(old)
        if along > at:
            along = max(along + by, at)
        return place.moved_to(edge, min(along, edge.length))

    def notch(each: Notch) -> Notch:
        return replace(each, at=moved(each.at)) if each.edge == edge.name else each

    def mark(each: InnerMark) -> InnerMark:
        if isinstance(each.place, OnEdge) and each.place.edge == edge.name:
            return replace(each, place=structs.replace(each.place, at=moved(each.place.at)))
        return each

    changed = piece.with_edges(edge)
    return replace(
        changed, notches=tuple(map(notch, piece.notches)), marks=tuple(map(mark, piece.marks))
    )
