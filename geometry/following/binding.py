"""Draw a binding to the line it is sewn to: a strip of bias cloth, as long as the line."""

import cmath
import math

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.following.band import END, OUTER
from trueup.geometry.following.bent import SEWN
from trueup.geometry.following.cuff import FOLD_LINE
from trueup.geometry.following.sewn_line import corners_between, runs_of
from trueup.geometry.lines.chain import Chain
from trueup.geometry.measuring.walk import run_length
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.drafted import BindingTo
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.tolerance import SHORTEST_LEFT

BEGINNING = "beginning"


def binding(draft: Draft, to: BindingTo) -> Piece:
    """Return the strip as the line is now; raises NoSuchName, DoesNotFit.

    It lies level, the edge that is sewn below, the threads of the cloth at 45 degrees to it. It is
    twice as wide as it shows, and each long edge has as much again to turn in. It is notched at its
    ends where it is folded lengthwise, and on both long edges where strips are joined.
    """
    runs = runs_of(draft, to.lines)
    whole = run_length(draft, runs)
    length = whole - to.shorter
    if length < SHORTEST_LEFT:
        raise DoesNotFit(said("nothing-left"), said("smaller-amount"))
    high = 2 * to.width
    first, last = 0j, complex(length, 0.0)
    lean = complex(high if to.slanted else 0.0, -high)
    edges = (
        Edge(SEWN, "sewn-start", "sewn-end", (Chain.line(first, last),)),
        Edge(END, "sewn-end", "outer-end", (Chain.line(last, last + lean),)),
        Edge(OUTER, "outer-end", "outer-start", (Chain.line(last + lean, first + lean),)),
        Edge(BEGINNING, "outer-start", "sewn-start", (Chain.line(first + lean, first),)),
    )
    notches = [
        Notch(corner, SEWN, Position("sewn-start", distance=at * length / whole))
        for corner, at in corners_between(draft, runs)
    ]
    notches += [
        Notch(FOLD_LINE, edge, Position(corner, share=0.5))
        for edge, corner in ((END, "sewn-end"), (BEGINNING, "outer-start"))
    ]
    strips = math.ceil(length / to.longest) if to.longest else 1
    for k in range(1, strips):
        at = length * k / strips
        notches.append(Notch(f"join-{k}", SEWN, Position("sewn-start", distance=at)))
        # A join runs along the thread: on the other edge it lies as far on as the strip is wide.
        beyond = at + high - lean.real
        if beyond < length:
            notches.append(Notch(f"join-{k}", OUTER, Position("outer-start", distance=beyond)))
    middle = complex(length / 2, -to.width)
    thread = cmath.rect(0.9 * to.width, -math.pi / 4)
    grain = Grainline(middle - thread, middle + thread)
    allowances = ((OUTER, to.width), (SEWN, to.width))
    return Piece(to.piece, edges, (), tuple(notches), grain, allowances=allowances)
