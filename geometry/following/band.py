"""Draw a band to the line it is sewn to: as long as the line, with a square end."""

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.following.bent import SEWN, bent, beside
from trueup.geometry.following.sewn_line import corners_between, runs_of
from trueup.geometry.lines.chain import Chain
from trueup.geometry.measuring.walk import run_length
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.drafted import BandTo
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT, SHORTEST_LEFT

OUTER, END, CENTRE, EXTENSION = "outer-edge", "end", "centre", "extension"


def band(draft: Draft, to: BandTo) -> Piece:
    """Return the band as the line is now; raises NoSuchName, DoesNotFit.

    Its beginning lies at the left, the edge that is sewn below.
    """
    runs = runs_of(draft, to.lines)
    length = run_length(draft, runs) - to.gathers
    if length < SHORTEST_LEFT:
        raise DoesNotFit(said("nothing-left"), said("gather-less"), edge=SEWN)
    corners = corners_between(draft, runs)
    straight = corners[0][1] - to.gathers * corners[0][1] / (length + to.gathers) if corners else 0
    sewn = bent(length, straight, to.rise)
    heading = sewn.end_tangent
    up = -1j * heading
    tip = sewn.end + heading * to.extension
    outer = beside(sewn, to.height)
    far = tip + up * to.height
    edges = [Edge(SEWN, "sewn-centre", "sewn-end", (sewn,))]
    beginning = "sewn-end"
    if to.extension > SAME_POINT:
        edges.append(Edge(EXTENSION, "sewn-end", "end", (Chain.line(sewn.end, tip),)))
        beginning = "end"
        outer = Chain((*outer.cubics, *Chain.line(outer.end, far).cubics))
    edges += [
        Edge(END, beginning, "outer-end", (Chain.line(tip, outer.end),)),
        Edge(OUTER, "outer-end", "outer-centre", (outer.reversed(),)),
        Edge(CENTRE, "outer-centre", "sewn-centre", (Chain.line(outer.start, sewn.start),)),
    ]
    shrunk = length / (length + to.gathers)
    notches = (
        Notch(corner, SEWN, Position("sewn-centre", distance=at * shrunk)) for corner, at in corners
    )
    middle = complex(0, -to.height / 2)
    grain = Grainline(middle + 0.1 * length, middle + 0.5 * max(straight, length / 2))
    fold = CENTRE if to.fold else None
    return Piece(to.piece, tuple(edges), (), tuple(notches), grain, fold)
