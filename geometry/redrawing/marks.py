"""Carry the notches of an edge along with a line that was drawn anew."""

from collections.abc import Callable
from dataclasses import replace

from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Notch
from trueup.geometry.pieces.position import Position


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
    distance = along if notch.at.corner == new.starts_at else new.length - along
    return replace(notch, at=Position(notch.at.corner, distance=max(float(distance), 0.0)))
