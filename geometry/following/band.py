"""Draw a band to the line it is sewn to: as long as the line, with a square end."""

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.following.sewn_line import corners_between, runs_of
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_join
from trueup.geometry.lines.points import Point, unit
from trueup.geometry.measuring.walk import run_length
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.drafted import BandTo
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_LENGTH, SAME_POINT, SHORTEST_LEFT

SEWN, OUTER, END, CENTRE, EXTENSION = "sewn-edge", "outer-edge", "end", "centre", "extension"

_STEEPEST = 0.6
"""Share of the bent part of a band that its end may rise: as a quarter circle does, nearly."""


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
    sewn = _bent(length, straight, to.rise)
    heading = sewn.end_tangent
    up = -1j * heading
    tip = sewn.end + heading * to.extension
    outer = _beside(sewn, to.height)
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


def _bent(length: float, straight: float, rise: float) -> Chain:
    """Return a line of a length that runs level at first and ends so much higher, as an arc."""
    rest = length - straight
    if abs(rise) < SAME_POINT:
        return Chain.line(0j, complex(length, 0))
    if abs(rise) > _STEEPEST * rest:
        reason, possible = said("rises-too-much"), said("use-at-most", by=_STEEPEST * rest)
        raise DoesNotFit(reason, possible, edge=SEWN, largest=_STEEPEST * rest)
    start = complex(straight, 0)

    def arc(across: float) -> Chain:
        chord = complex(across, -rise)
        return smooth_join(start, 1 + 0j, start + chord, unit(chord) ** 2)

    across = root_between(lambda w: arc(w).length - rest, rest / 4, rest, SAME_LENGTH)
    if across is None:
        raise DoesNotFit(said("rises-too-much"), said("smaller-amount"), edge=SEWN)
    bent = arc(across)
    return Chain.joining([Chain.line(0j, start), bent]) if straight > SAME_POINT else bent


def _beside(line: Chain, height: float) -> Chain:
    """Return the line so far above another: a parallel of each of its straight lines and arcs."""
    chains: list[Chain] = []
    for cubic in line.cubics:
        start = _above(cubic.start, cubic.tangent(0.0), height)
        end = _above(cubic.end, cubic.tangent(1.0), height)
        if cubic.is_straight:
            chains.append(Chain.line(start, end))
        else:
            chains.append(smooth_join(start, cubic.tangent(0.0), end, cubic.tangent(1.0)))
    return Chain.joining(chains)


def _above(point: Point, heading: complex, height: float) -> Point:
    return point - 1j * heading * height
