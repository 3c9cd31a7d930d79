"""Draw edges on to a point beyond their end, or cut them where they pass a level."""

from dataclasses import replace
from functools import lru_cache

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point, degrees_between
from trueup.geometry.pieces.closed_line import smoothed_at
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.move_corner import EDGES_AT_HAND, end_cut, end_motion, start_carried
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT, SHORTEST_LEFT

_ROUNDING = 40.0
_STRAIGHT_ON_DEGREES = 0.01


@lru_cache(EDGES_AT_HAND)
def end_drawn_to(edge: Edge, point: Point) -> Edge:
    """Return the edge drawn on straight from its end to a point, the bend there rounded off.

    The rounding runs 40 mm to either side, or half of what is there: it makes the natural waist of
    a side seam a curve and not a corner, and takes nothing off further away.
    """
    last = edge.parts[-1]
    added = Chain.line(last.end, point)
    line = Chain.joining([last, added])
    if degrees_between(last.end_tangent, added.start_tangent) > _STRAIGHT_ON_DEGREES:
        reach = min(_ROUNDING, last.length / 2, added.length / 2)
        line = smoothed_at(line, last.length, reach)
    return replace(edge, parts=(*edge.parts[:-1], line))


def end_cut_at_level(edge: Edge, y: float) -> Edge:
    """Return the edge cut where its last stretch comes nearest its end past a level y mm down.

    Raises DoesNotFit, with the largest rise of the end in mm, when it does not pass the level
    between its last dart and its end.
    """
    last = edge.parts[-1]
    passes = [at for at in last.crossings(complex(0.0, y), 1) if at < last.length - SAME_POINT]
    if passes and passes[-1] >= SHORTEST_LEFT:
        return replace(edge, parts=(*edge.parts[:-1], last.between(0.0, passes[-1])))
    top = min(point.imag for point in last.flattened())
    largest = max(last.end.imag - top - SHORTEST_LEFT, 0.0)
    dart = edge.darts[-1].name if edge.darts else None
    reason = said("hem-meets-dart", dart=dart) if dart else said("hem-meets-end", edge=edge.name)
    possible = said("raise-at-most", by=largest)
    raise DoesNotFit(reason, possible, edge=edge.name, largest=-largest, dart=dart)


def reversed_edge(edge: Edge) -> Edge:
    """Return the edge travelled from its end to its start, so that it can be worked on there."""
    return Edge(
        edge.name,
        edge.ends_at,
        edge.starts_at,
        tuple(part.reversed() for part in reversed(edge.parts)),
        tuple(reversed(edge.darts)),
        edge.shaped,
    )


def shoulder_cut(piece: Piece, by: float) -> Piece:
    """Return a piece whose shoulder is `by` mm shorter at the shoulder point; drawn on if negative.

    The armhole is redrawn up to the new point, at the angle it had, fading to nothing at the
    underarm. Raises DoesNotFit.
    """
    old = piece.edge("shoulder")
    shoulder = end_cut(old, by)
    armhole = start_carried(piece.edge("armhole"), end_motion(old, shoulder), shoulder.end)
    return piece.with_edges(shoulder, armhole)
