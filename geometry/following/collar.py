"""Draw a collar to the line it is sewn to: as long as the line, its front edge ends in a point."""

import math

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.following.bent import SEWN, bent, beside
from trueup.geometry.following.sewn_line import corners_between, runs_of
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_join
from trueup.geometry.lines.points import unit
from trueup.geometry.measuring.walk import run_length
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.drafted import CollarTo
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.tolerance import SHORTEST_LEFT

OUTER, FRONT, CENTRE = "outer-edge", "front-edge", "centre"


def collar(draft: Draft, to: CollarTo) -> Piece:
    """Return the collar as the line is now; raises NoSuchName, DoesNotFit.

    Its centre lies at the left, the edge that is sewn below. The outer edge runs beside the sewn
    one for half of it at least, and from there on in one fair curve to the point.
    """
    runs = runs_of(draft, to.lines)
    length = run_length(draft, runs) - to.free
    if length < SHORTEST_LEFT:
        raise DoesNotFit(said("nothing-left"), said("leave-less-free"), edge=SEWN)
    corners = [(corner, at) for corner, at in corners_between(draft, runs) if at < length]
    straight = corners[0][1] if corners else 0.0
    sewn = bent(length, straight, to.rise)
    heading = sewn.end_tangent
    up = math.sqrt(to.point**2 - to.lean**2)
    point = sewn.end + heading * complex(to.lean, -up)
    calm = beside(sewn.between(0.0, max(straight, length / 2)), to.height)
    leaving = calm.end_tangent
    chord = unit(point - calm.end)
    curve = smooth_join(calm.end, leaving, point, chord * chord / leaving)
    outer = Chain.joining([calm, curve])
    edges = (
        Edge(SEWN, "sewn-centre", "sewn-end", (sewn,)),
        Edge(FRONT, "sewn-end", "point", (Chain.line(sewn.end, point),)),
        Edge(OUTER, "point", "outer-centre", (outer.reversed(),)),
        Edge(CENTRE, "outer-centre", "sewn-centre", (Chain.line(outer.start, sewn.start),)),
    )
    notches = tuple(
        Notch(corner, SEWN, Position("sewn-centre", distance=at)) for corner, at in corners
    )
    middle = complex(0, -to.height / 2)
    grain = Grainline(middle + 0.1 * length, middle + 0.45 * length)
    return Piece(to.piece, edges, (), notches, grain, CENTRE if to.fold else None)
