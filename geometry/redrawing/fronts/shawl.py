"""Draw a shawl collar grown on to a front: its lapel and its collar are one piece with it.

The roll line runs from the edge of the front, where the lapel breaks, to the shoulder line drawn on
beyond the neck by the height of the stand. Beside it, from the neck point on, lies the edge that is
sewn to the neck of the back; it is swung away from the roll line, so that the outer edge is long
enough to lie over it. Square to it at its end lies the centre back, stand and fall in one.
"""

import math
from dataclasses import dataclass, replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_line
from trueup.geometry.lines.points import Point, dot, unit
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import InnerMark, OnEdge, Purpose
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.drawn_on import reversed_edge
from trueup.geometry.redrawing.fronts.past_centre import (
    FRONT_EDGE,
    Mirror,
    kept_notch,
    others,
    overlap_name,
    turned,
    until,
    way_along,
    with_centre_line,
)
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT, SHORTEST_LEFT

NECK_EDGE, CENTRE_BACK, OUTER = "collar-neck", "collar-centre", "collar-edge"
ROLL_LINE = "roll-line"

_WIDEST = 0.5
"""Where along the roll line, from where the lapel breaks, it is as wide as asked."""


@dataclass(frozen=True)
class Shawl:
    """A shawl collar on the front of a `neck`, beside a `centre`; lengths in mm.

    The lapel breaks so far below the neck (`opens`), on an edge by an `extension` beyond the
    centre. The collar has a `stand` and a `fall` at the centre back, is swung by a `spring`, and
    the lapel lies by `lapel` beyond the roll line. `back` is the length of the neck of the back.
    """

    centre: str
    neck: str
    opens: float
    extension: float
    stand: float
    fall: float
    spring: float
    lapel: float
    back: float


def with_shawl(piece: Piece, to: Shawl) -> Piece:
    """Return a front with a shawl collar; raises NoSuchName, DoesNotFit."""
    if piece.neighbours(to.centre)[1].name == to.neck:
        return _with_shawl(piece, to)
    if piece.neighbours(to.centre)[0].name == to.neck:
        return turned(_with_shawl(turned(piece), to))
    raise DoesNotFit(said("edge-not-above", edge=to.neck), said("name-another-edge"))


def _with_shawl(piece: Piece, to: Shawl) -> Piece:
    centre = piece.edge(to.centre)
    lower, neck = piece.neighbours(to.centre)
    shoulder = piece.neighbours(neck.name)[1]
    up = way_along(centre)
    most = centre.length - SHORTEST_LEFT
    if to.opens > most:
        possible = said("use-at-most", by=most)
        raise DoesNotFit(said("opens-below-hem"), possible, largest=most)
    outward = -up * piece.inward
    corners = [f"{FRONT_EDGE}-{lower.name}", "break", "collar-back", "collar-neck-back"]
    if to.extension > SAME_POINT:
        below = until(Mirror(centre.start, up).edge(reversed_edge(lower)), to.extension)
        below = replace(below, starts_at=lower.ends_at, ends_at=corners[0])
        past, bottom = [replace(below, name=overlap_name(lower.name))], below.end
    else:
        corners[0], past, bottom = lower.ends_at, [], centre.start
    breaks = centre.end - up * to.opens + outward * to.extension
    beyond = neck.end - shoulder.parts[0].start_tangent * to.stand
    roll = unit(beyond - breaks)
    aside = -roll * piece.inward  # from the roll line towards the outer edge
    swung = -aside * to.spring / to.back
    along = roll * math.sqrt(1 - abs(swung) ** 2) + swung
    top = neck.end + along * to.back
    back = top + -along * piece.inward * (to.stand + to.fall)
    outer = _outer(breaks, abs(beyond - breaks), roll, aside * to.lapel, back, along)
    ring = [
        *past,
        Edge(FRONT_EDGE, corners[0], corners[1], (Chain.line(bottom, breaks),)),
        Edge(OUTER, corners[1], corners[2], (outer,)),
        Edge(CENTRE_BACK, corners[2], corners[3], (Chain.line(back, top),)),
        Edge(NECK_EDGE, corners[3], neck.ends_at, (Chain.line(top, neck.end),)),
        shoulder,
        *others(piece, to.centre, [shoulder.name]),
    ]
    names = [edge.name for edge in ring]
    changed = replace(
        piece,
        edges=tuple(ring),
        notches=(),
        fold=None,
        allowances=tuple(each for each in piece.allowances if each[0] in names),
    )
    notches = tuple(filter(None, (kept_notch(piece, changed, n) for n in piece.notches)))
    marked = with_centre_line(replace(changed, notches=notches), lower, centre)
    return _with_roll_line(marked, breaks, beyond)


def _outer(
    breaks: Point, roll_length: float, roll: complex, lapel: complex, back: Point, along: complex
) -> Chain:
    """Return the outer edge from where the lapel breaks to the centre back, square to that."""
    widest = breaks + roll * roll_length * _WIDEST + lapel
    return smooth_line([breaks, widest, back], unit(widest - breaks), along)


def _with_roll_line(piece: Piece, breaks: Point, beyond: Point) -> Piece:
    """Return a front with its roll line marked, along which collar and lapel turn over."""
    front = piece.edge(FRONT_EDGE)
    along = -front.parts[-1].end_tangent
    into = -along * piece.inward
    way = beyond - breaks
    run = (0j, complex(dot(way, along), dot(way, into)))
    place = OnEdge(FRONT_EDGE, Position(front.ends_at, distance=0.0))
    return piece.with_marks(InnerMark(ROLL_LINE, Purpose.FOLD, place, (run,)))
