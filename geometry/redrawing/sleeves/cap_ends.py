"""Let a sleeve cap run on without a kink where its two ends meet, across the sleeve seam.

Sewn up, the cap is one ring: what its two corners at the underarm have together is half a turn.
Where the seams were moved, each end of the cap is turned by half of what is missing. Its end
points and its neighbours stay, and so does the cap beyond the hollow at each end.
"""

import math
from collections.abc import Callable
from dataclasses import replace

from msgspec.structs import replace as replace_curve

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Motion, cross, unit
from trueup.geometry.measuring.sections import CROWN
from trueup.geometry.pieces.corner import corner_degrees
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.tolerance import SAME_DIRECTION, SAME_POINT

SMOOTH = 180.0

_FRONT_SEAM, _BACK_SEAM = "front-seam", "back-seam"

_TIGHTEST = 20.0
"""An end of the cap bends no more tightly than a circle of this radius, mm, where it can."""

_FARTHEST = 1 / 4
_STEPS, _HALVINGS, _SAMPLES = 16, 20, 16


def cap_at_seams(sleeve: Piece) -> tuple[Edge, Edge]:
    """Return the edges of a sleeve that meet its seams above, front and back.

    Both are its cap; of a raglan, what is left of the cap to either side.
    """
    return sleeve.neighbours(_FRONT_SEAM)[1], sleeve.neighbours(_BACK_SEAM)[0]


def seam_kink(sleeve: Piece) -> float:
    """Return by how many degrees the cap fails to run on across the sleeve seam, signed."""
    front, back = cap_at_seams(sleeve)
    corners = front.starts_at, back.ends_at
    return sum(corner_degrees(sleeve, corner) for corner in corners) - SMOOTH


Reaches = tuple[float, float]
"""How far along the cap each end is drawn anew, as a share of it; 0 for its first curve alone."""


def smooth_across_the_seam(sleeve: Piece, reaches: Reaches | None = None) -> tuple[Piece, Reaches]:
    """Return a sleeve whose cap runs on across the seam, and how far its ends were drawn anew.

    They are drawn as far as it takes to run fair unless `reaches` are given. The crown notch keeps
    its place on the cap.
    """
    turn = math.radians(seam_kink(sleeve) / 2) * sleeve.inward.imag
    if abs(math.degrees(turn)) < SAME_DIRECTION / 2:
        return sleeve, (0.0, 0.0)
    if "cap" not in sleeve.edge_names:
        return _raglan_smooth(sleeve, turn), (0.0, 0.0)
    cap = sleeve.edge("cap")
    start, end = reaches or (None, None)
    first, at_start = start_turned(cap.parts[0], turn, start)
    begun = replace(cap, parts=(first, *cap.parts[1:]))
    last, at_end = start_turned(begun.parts[-1].reversed(), -turn, end)
    ended = replace(begun, parts=(*begun.parts[:-1], last.reversed()))
    gained = begun.length - cap.length
    notches = tuple(_kept(notch, cap, ended, gained) for notch in sleeve.notches)
    return replace(sleeve.with_edges(ended), notches=notches), (at_start, at_end)


def _raglan_smooth(sleeve: Piece, turn: float) -> Piece:
    """Return a raglan sleeve whose two ends of the cap are turned alike at the sleeve seam."""
    front, back = cap_at_seams(sleeve)
    first = start_turned(front.parts[0], turn, None)[0]
    last = start_turned(back.parts[-1].reversed(), -turn, None)[0]
    return sleeve.with_edges(
        replace(front, parts=(first, *front.parts[1:])),
        replace(back, parts=(*back.parts[:-1], last.reversed())),
    )


def _kept(notch: Notch, old: Edge, new: Edge, gained: float) -> Notch:
    """Return the crown notch where it lay; before it the cap has gained so much, mm."""
    if notch.edge != "cap" or notch.name != CROWN or notch.at.distance is None:
        return notch
    along = notch.at.along(old) + gained
    distance = along if notch.at.corner == new.starts_at else new.length - along
    return replace(notch, at=Position(notch.at.corner, distance=max(distance, 0.0)))


def start_turned(chain: Chain, radians: float, share: float | None) -> tuple[Chain, float]:
    """Return a line that sets out turned by so much, clockwise on paper when positive.

    Its first curve is bent to it; where that would make it wave or bend too tightly, it is drawn
    anew as far on as it takes to run fair, up to a quarter of the line: that `share` is returned
    as well, 0 for the first curve, unless it was given.
    """
    first = chain.cubics[0]
    leaving = unit(Motion.turn(first.start, radians)(first.start_control) - first.start)
    hollow = cross(first.end - first.start, first.tangent(1.0))

    def margin(reach: float) -> float:
        return _fairness(_bent(chain, reach, leaving), math.copysign(1.0, hollow))

    reach = share * chain.length if share else first.length
    farthest = chain.length * _FARTHEST
    if share is None and first.length < farthest:
        reach = _first_fair(margin, first.length, farthest)
    begun = _bent(chain, reach, leaving)
    if reach == first.length:
        return Chain((begun, *chain.cubics[1:])), 0.0
    drawn = Chain.joining([Chain((begun,)), chain.between(reach, chain.length)])
    return drawn, reach / chain.length


def _first_fair(margin: Callable[[float], float], least: float, most: float) -> float:
    """Return the shortest reach at which a margin is not negative, or the one of the largest."""
    if margin(least) >= 0:
        return least
    reaches = [least + (most - least) * step / _STEPS for step in range(_STEPS + 1)]
    found = next((k for k, reach in enumerate(reaches) if margin(reach) >= 0), None)
    if found is None:
        return max(reaches, key=margin)
    low, high = reaches[found - 1], reaches[found]
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if margin(middle) >= 0 else (middle, high)
    return high


def _bent(chain: Chain, reach: float, leaving: complex) -> Cubic:
    """Return one curve that sets out in a direction and joins a line so many mm along.

    Its controls reach out by as much of its length as those of the line's first curve.
    """
    first = chain.cubics[0]
    out, back = (
        abs(handle) / first.length * reach
        for handle in (first.start_control - first.start, first.end - first.end_control)
    )
    if reach == first.length:
        return replace_curve(first, start_control=first.start + leaving * out)
    end, arriving = chain.place_at(reach)
    return Cubic(first.start, first.start + leaving * out, end - arriving * back, end)


def _fairness(cubic: Cubic, hollow: float) -> float:
    """Return how far a curve is from waving and from bending too tightly, negative where it does.

    `hollow` is the sign of the way it should bend: as a cap does above its underarm points.
    """
    bends = [hollow * _bend(cubic, step / _SAMPLES) for step in range(_SAMPLES + 1)]
    return min(*bends, 1 / _TIGHTEST - max(bends))


def _bend(cubic: Cubic, t: float) -> float:
    """Return the curvature at a parameter, 1/mm; positive where it bends clockwise on paper."""
    a, b, c, d = cubic
    along = 3 * ((1 - t) ** 2 * (b - a) + 2 * t * (1 - t) * (c - b) + t * t * (d - c))
    bending = 6 * ((1 - t) * (c - 2 * b + a) + t * (d - 2 * c + b))
    return cross(along, bending) / max(abs(along), SAME_POINT) ** 3
