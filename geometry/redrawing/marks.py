"""Carry the notches of an edge along with a line that was drawn anew, and know which can stay."""

from collections.abc import Callable
from dataclasses import replace

from trueup.geometry.errors import GeometryError
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Notch, Piece


def carried_notch(
    notch: Notch, old: Edge, new: Edge, stretch: tuple[float, float], to: Callable[[float], Point]
) -> Notch:
    """Return a notch where its point came to lie when a stretch of its edge was drawn anew.

    `stretch` are two lengths along the old edge, which has no dart; beyond them a notch keeps its
    distance from the end. `to` says where the point at a length between them lies now. A notch of
    another edge is returned as it is.
    """
    if notch.edge != old.name:
        return notch
    at, (low, high) = notch.at.along(old), stretch
    if at <= low:
        along = at
    elif at >= high:
        along = new.length - (old.length - at)
    else:
        along = new.parts[0].nearest(to(at))
    along = min(max(float(along), 0.0), new.length)
    return replace(notch, at=notch.at.moved_to(new, along))


def on_own_side(notch: Notch, old: Edge, new: Edge, at: float) -> Notch:
    """Return a notch where it lay on its paper when an edge grew at a length from its start, mm.

    It keeps its distance from the end on its own side of that place. A notch of another edge is
    returned as it is.
    """
    if notch.edge != old.name:
        return notch
    along = notch.at.along(old)
    there = along if along <= at else new.length - (old.length - along)
    return replace(notch, at=notch.at.moved_to(new, there))


def is_there(piece: Piece, notch: Notch) -> bool:
    """Return whether a piece has the place of a notch: its edge, and so much of it."""
    try:
        notch.at.along(piece.edge(notch.edge))
    except GeometryError:
        return False
    return True
