"""Draw a cuff to the line it is sewn to: a straight band with laps beyond the ends of the line."""

from collections.abc import Iterator

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.following.band import CENTRE, END, OUTER
from trueup.geometry.following.bent import SEWN
from trueup.geometry.following.sewn_line import corners_between, runs_of
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point
from trueup.geometry.measuring.walk import run_length
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.drafted import CuffTo
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT, SHORTEST_LEFT

OVERLAP, UNDERLAP = "overlap", "underlap"
FOLD_LINE = "fold-line"


def cuff(draft: Draft, to: CuffTo) -> Piece:
    """Return the cuff as the line is now; raises NoSuchName, DoesNotFit.

    Its beginning lies at the left, the edge that is sewn below. One that is doubled is twice as
    wide, and notched at both ends where it is folded lengthwise.
    """
    runs = runs_of(draft, to.lines)
    length = run_length(draft, runs) - to.gathers
    if length < SHORTEST_LEFT:
        raise DoesNotFit(said("nothing-left"), said("gather-less"))
    up = -1j * to.width * (2 if to.doubled else 1)
    # A lap that is as good as nothing is none, so that the sewn edge is all there is.
    under, over = (lap if lap > SAME_POINT else 0.0 for lap in (to.underlap, to.overlap))
    first, last = complex(-under, 0.0), complex(length + over, 0.0)
    shrunk = length / (length + to.gathers)
    notches = [
        Notch(corner, SEWN, Position("sewn-start", distance=at * shrunk))
        for corner, at in corners_between(draft, runs)
    ]
    laps = ((UNDERLAP, under, "sewn-start"), (OVERLAP, over, "sewn-end"))
    notches += [Notch(name, SEWN, Position(c, distance=0.0)) for name, lap, c in laps if lap]
    if to.doubled:
        ends = {END: "outer-end"} if to.fold else {END: "outer-end", CENTRE: "outer-start"}
        notches += [Notch(FOLD_LINE, e, Position(c, share=0.5)) for e, c in ends.items()]
    middle = up * 0.3
    grain = Grainline(middle + 0.1 * length, middle + 0.6 * length)
    edges = (*_sewn_side(length, first, last), *_outer_side(length, first, last, up))
    return Piece(to.piece, edges, (), tuple(notches), grain, CENTRE if to.fold else None)


def _sewn_side(length: float, first: Point, last: Point) -> Iterator[Edge]:
    start, end = 0j, complex(length, 0.0)
    if abs(first - start) > SAME_POINT:
        yield Edge(UNDERLAP, "start", "sewn-start", (Chain.line(first, start),))
    yield Edge(SEWN, "sewn-start", "sewn-end", (Chain.line(start, end),))
    if abs(last - end) > SAME_POINT:
        yield Edge(OVERLAP, "sewn-end", "end", (Chain.line(end, last),))


def _outer_side(length: float, first: Point, last: Point, up: complex) -> Iterator[Edge]:
    start = "start" if abs(first) > SAME_POINT else "sewn-start"
    end = "end" if abs(last - length) > SAME_POINT else "sewn-end"
    yield Edge(END, end, "outer-end", (Chain.line(last, last + up),))
    yield Edge(OUTER, "outer-end", "outer-start", (Chain.line(last + up, first + up),))
    yield Edge(CENTRE, "outer-start", start, (Chain.line(first + up, first),))
