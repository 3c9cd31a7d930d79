"""Open a dart on an edge where there was none, and true the edge across it."""

from dataclasses import replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.move_corner import (
    end_carried,
    end_cut,
    end_motion,
    start_carried,
    start_cut,
    start_motion,
)
from trueup.geometry.redrawing.sound import require_cloth, require_sound
from trueup.geometry.redrawing.trued_dart import with_intake
from trueup.geometry.redrawing.turning.wedge import WEDGE, with_mouth
from trueup.geometry.said import said

_HAIR = 1.0
"""A mouth is opened so wide first, mm, and then deepened as any dart is."""


def with_dart_opened(
    piece: Piece, name: str, edge: str, at: float, aims: Point, intake: float
) -> Piece:
    """Return a piece with a dart whose mouth has its middle a sewn length along an edge.

    It aims at a point, takes in so much at its mouth (mm), and the edge is trued across it as it
    lies closed; its ends stay. Raises DoesNotFit where there is no room for it.
    """
    # The first mouth point stays where it is when a dart is deepened.
    slit = with_mouth(piece, edge, at - (intake - _HAIR) / 2, _HAIR)
    line = slit.edge(edge)
    darts = (replace(d, name=name, apex=aims) if d.name == WEDGE else d for d in line.darts)
    trued = with_intake(replace(line, darts=tuple(darts)), name, intake)
    if trued is None:
        leg = abs(slit.mouth(WEDGE).first - aims)
        raise DoesNotFit(said("legs-open-no-wider", leg=leg), said("smaller-amount"))
    changed = slit.with_edges(trued)
    require_sound(changed, name, said("another-place"))
    require_cloth(piece, changed, name, said("another-place"))
    return changed


def let_out_at(piece: Piece, edge: Edge, beside: str, by: float) -> tuple[Piece, float]:
    """Return a piece whose edge is drawn on by so much (mm) at the edge beside it, and that along.

    The edge beside it is redrawn up to the new corner at the angle it had, fading to nothing at its
    other end. The second value is by how much a place along the edge, from its start, lies farther
    on then.
    """
    before, after = piece.neighbours(edge.name)
    if beside == after.name:
        longer = end_cut(edge, -by)
        other = start_carried(after, end_motion(edge, longer), longer.end)
        return piece.with_edges(longer, other), 0.0
    longer = start_cut(edge, -by)
    other = end_carried(before, start_motion(edge, longer), longer.start)
    return piece.with_edges(longer, other), by
