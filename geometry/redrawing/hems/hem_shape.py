"""Move a hem at the side and at the centre by amounts of their own, and draw it between the two.

Lengths are mm; what lies lower is positive.
"""

import cmath
from dataclasses import dataclass, replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_join
from trueup.geometry.lines.points import turn_between, unit
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.drawn_on import reversed_edge
from trueup.geometry.redrawing.hems.hem import at_hem, cut_off
from trueup.geometry.redrawing.move_corner import (
    beside,
    end_cut,
    end_motion,
    meeting,
    start_motion,
)
from trueup.geometry.redrawing.trued_dart import displaced
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT, SHORTEST_LEFT

HEM = "hem"
_CENTRE = "centre"
_CURVES = 8


@dataclass(frozen=True)
class HemShape:
    """How a hem comes from its level at the side to that at the centre.

    It does so within `reach` of the side, over all of it where that is None. One that runs `across`
    sets out from the side at the angle it had, bends and bends back; one that does not is one bend,
    and meets the side aslant.
    """

    across: bool
    reach: float | None = None


def shaped_hem(piece: Piece, at_side: float, at_centre: float, shape: HemShape) -> Piece:
    """Return a piece whose hem lies so much lower at the side, and so much at the centre.

    Side and centre are drawn on, or cut, along themselves; darts in the hem are closed meanwhile.
    Raises DoesNotFit as `side_and_centre` does, and where they are too short.
    """
    hem = piece.edge(HEM)
    old_side, old_centre = side_and_centre(piece)
    side = end_cut(old_side, -at_side)
    centre = reversed_edge(end_cut(reversed_edge(old_centre), -at_centre))
    if abs(at_side - at_centre) < SAME_POINT:
        drawn = _lower(hem, (old_side, side), (old_centre, centre), at_side)
    else:
        drawn = _drawn(hem, (old_side, side), (old_centre, centre), shape)
    changed = piece.with_edges(side, drawn, centre)
    return cut_off(changed) if min(at_side, at_centre) < -SAME_POINT else at_hem(changed)


def side_and_centre(piece: Piece) -> tuple[Edge, Edge]:
    """Return the edges beside a hem; raises DoesNotFit where it runs to no centre from a side."""
    side, centre = piece.neighbours(HEM)
    if centre.name not in (piece.fold, _CENTRE):
        raise DoesNotFit(said("hem-from-side-to-centre"), said("name-another-piece"), edge=HEM)
    return side, centre


def _lower(hem: Edge, sides: tuple[Edge, Edge], centres: tuple[Edge, Edge], by: float) -> Edge:
    """Return a hem that lies lower by as much all along: an arc stays one about its own middle.

    The way down turns evenly from that of the side to that of the centre.
    """
    line = closed(hem)
    total = line.chain.length
    down = sides[0].parts[-1].end_tangent
    turn = turn_between(down, line.motions[-1].rotation * -centres[0].parts[0].start_tangent)

    def field(at: float) -> tuple[complex, complex]:
        way = by * down * cmath.rect(1.0, turn * at / total)
        return way, 1j * turn / total * way

    fine = line.chain.cut_at([total * k / _CURVES for k in range(1, _CURVES)])
    opened = line.opened(displaced(fine, field))
    return meeting(opened, start=sides[1].end, end=centres[1].start)


def _drawn(
    hem: Edge, sides: tuple[Edge, Edge], centres: tuple[Edge, Edge], shape: HemShape
) -> Edge:
    line = closed(hem)
    at_side, at_centre = end_motion(*sides), start_motion(*centres)
    start, end = sides[1].end, centres[1].start
    whole = line.chain.moved(beside(line, at_centre))
    reach = whole.length if shape.reach is None else min(shape.reach, whole.length)
    onward = whole.tangent_at(reach)
    if shape.across:
        heading = line.chain.start_tangent * at_side.rotation
    else:
        # As an arc leaves its chord on the one side, it comes back to it on the other.
        chord = unit(whole.point_at(reach) - start)
        heading = chord * chord / onward
    bend = smooth_join(start, heading, whole.point_at(reach), onward)
    is_all = whole.length - reach < SHORTEST_LEFT
    drawn = bend if is_all else Chain.joining([bend, whole.split_at(reach)[1]])
    opened = meeting(line.opened(drawn), start=start, end=end)
    return replace(opened, shaped=hem.shaped or shape.across)
