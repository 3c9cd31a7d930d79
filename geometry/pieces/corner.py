"""Corners of a piece: the inner angle between the edge that arrives and the one that leaves."""

import math

from trueup.geometry.errors import NoSuchName
from trueup.geometry.lines.points import turn_between
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece


def edges_at(piece: Piece, corner: str) -> tuple[Edge, Edge]:
    """Return the edges that arrive at and leave a corner; raises NoSuchName with the corners."""
    for edge in piece.edges:
        if edge.starts_at == corner:
            return piece.neighbours(edge.name)[0], edge
    raise NoSuchName("corner", corner, piece.name, tuple(e.starts_at for e in piece.edges))


def corner_degrees(piece: Piece, corner: str) -> float:
    """Return the angle of cloth at a corner, in degrees, above 0 and below 360.

    A square corner has 90, a corner that runs straight through 180, a hollow one more.
    Raises NoSuchName when the piece has no corner of that name.
    """
    arriving, leaving = edges_at(piece, corner)
    turn = turn_between(arriving.parts[-1].end_tangent, leaving.parts[0].start_tangent)
    clockwise = piece.inward.imag > 0
    return 180.0 - math.degrees(turn if clockwise else -turn)
