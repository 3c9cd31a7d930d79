"""Lay a tape across a piece as it is sewn: straight on, and across closed darts to their other leg.

Closing a dart brings its two legs together, so a tape that reaches one leg goes on from the same
place on the other. Where the dart was turned here from elsewhere, the cloth beyond it lies turned
by its angle, and so the tape goes on turned as well; where it was drafted, both sides lie upright
and the tape goes on level. So what it reads does not depend on where darts were turned to.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point, cross, dot, turn_between
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Level, Piece
from trueup.geometry.tolerance import SAME_POINT

CENTRE = "centre"
ARMHOLE = "armhole"
CAP = "cap"
BUST = "bust"

UNDERARM = "underarm"
_OF_A_SLEEVE = ("overarm", "wrist", UNDERARM, "gusset-upper", "gusset-lower")
"""The edges of a sleeve that is cut in one with the bodice, and of the slash for its gusset."""

_JUST_BELOW = 0.01
"""A tape that would run into a point of a dart exactly is laid this much (mm) lower."""

_MOST_TRIES = 8

_MOST_DARTS = 40
_HALVINGS = 24


@dataclass(frozen=True)
class Tape:
    """A tape laid across a piece: what it reads (mm), and edge and point where it leaves it."""

    width: float
    leaves_at: str
    leaves: Point


@dataclass(frozen=True)
class _Leg:
    """A leg of a dart, the motion that lays it on the other, and whether the cloth is turned."""

    tip: Point
    mouth: Point
    to_other: Motion
    turned: bool


def tape_at(piece: Piece, y: float) -> Tape | None:
    """Return the tape laid square to the grain from the centre, y mm down the page.

    None where there is no cloth at the centre, or the piece has no centre edge.
    """
    legs = _legs(piece)
    for lower in range(_MOST_TRIES):
        tape = _laid(piece, legs, y + lower * _JUST_BELOW)
        if tape is not _AT_A_POINT:
            return tape
    return None


_AT_A_POINT = Tape(0.0, "", 0j)
"""Stands for a tape that met the tip of a turned dart, or a corner of a mouth, exactly: it could go
on either way, or slips out between leg and edge."""


def _laid(piece: Piece, legs: Sequence[_Leg], y: float) -> Tape | None:
    start = _start(piece, y)
    if start is None:
        return None
    place, direction = start
    total = 0.0
    for _ in range(_MOST_DARTS):
        beyond, name = _way_out(piece, place, direction)
        leg, before = _nearest_leg(legs, place, direction, beyond)
        if not math.isfinite(before) or _meets_a_point(legs, place, direction, before):
            return _AT_A_POINT
        if leg is None:
            return Tape(total + beyond, name, place + beyond * direction)
        total += before
        place += before * direction
        place = leg.to_other(place)
        direction *= leg.to_other.rotation if leg.turned else 1
    return None


def _start(piece: Piece, y: float) -> tuple[Point, complex] | None:
    for part in piece.edge(CENTRE).parts:
        for length in part.crossings(complex(0, y), 1 + 0j):
            place, travel = part.place_at(length)
            return place, complex(math.copysign(1.0, (travel * piece.inward).real))
    return None


def _way_out(piece: Piece, place: Point, direction: complex) -> tuple[float, str]:
    """Return how far ahead the tape meets an edge, and which."""
    return min(
        (
            (ahead, edge.name)
            for edge in piece.edges
            for part in edge.parts
            for point in _met(part, place, direction)
            if (ahead := dot(point - place, direction)) > SAME_POINT
        ),
        default=(float("inf"), ""),
    )


@lru_cache(2048)
def _met(part: Chain, place: Point, direction: complex) -> Sequence[Point]:
    """Return where a tape meets a line; most lines are the same in several versions of a piece."""
    return part.meetings(place, direction)


@lru_cache(64)  # a tape is laid at each level of a piece
def _legs(piece: Piece) -> Sequence[_Leg]:
    found: list[_Leg] = []
    for edge in piece.edges:
        for mouth in edge.mouths:
            found += _pair(mouth.tip, mouth.first, mouth.second, mouth.dart.turned)
    for dart in piece.inner_darts:
        found += _pair(dart.upper, dart.left, dart.right, turned=False)
        found += _pair(dart.lower, dart.left, dart.right, turned=False)
    return found


def _pair(tip: Point, first: Point, second: Point, turned: bool) -> tuple[_Leg, _Leg]:
    turn = Motion.turn(tip, turn_between(first - tip, second - tip))
    return _Leg(tip, first, turn, turned), _Leg(tip, second, turn.inverse(), turned)


def _meets_a_point(legs: Sequence[_Leg], place: Point, direction: complex, within: float) -> bool:
    """Return whether the tape, on its way to the next edge or leg, meets a turned dart's point."""
    return any(
        leg.turned
        and abs(cross(direction, leg.tip - place)) < _JUST_BELOW / 2
        and -_JUST_BELOW < dot(leg.tip - place, direction) < within + _JUST_BELOW
        for leg in legs
    )


def _nearest_leg(
    legs: Sequence[_Leg], place: Point, direction: complex, within: float
) -> tuple[_Leg | None, float]:
    """Return the first leg ahead that the tape meets before `within` mm, and how far it is."""
    best, nearest = None, within
    for leg in legs:
        along = leg.mouth - leg.tip
        slant = cross(direction, along)
        if abs(slant) < SAME_POINT:
            continue
        ahead = cross(leg.tip - place, along) / slant
        share = cross(leg.tip - place, direction) / slant
        if SAME_POINT < ahead < nearest and 0 <= share <= 1:
            best, nearest = leg, ahead
    return best, nearest


def level_width(piece: Piece, level: Level) -> float:
    """Return the sewn width of a piece at a level, mm; nought where there is no cloth.

    The bust is measured under the arm: where the armhole was lowered past its level, at the
    underarm, for above it the tape would measure the opening.
    """
    if level.along:
        return piece.edge(level.along).length
    if CENTRE not in piece.edge_names:
        across = _across_the_sleeve if CAP in piece.edge_names else Piece.width_at
        return across(piece, level.y)
    tape = tape_at(piece, level.y)
    if tape and level.name == BUST and _through_armhole(piece, tape):
        tape = _under_the_arm(piece, level.y)
    return tape.width if tape else 0.0


def _across_the_sleeve(piece: Piece, y: float) -> float:
    """Return the width of a sleeve on a level, straight across where the ends of its cap dip below.

    The tape then lies from seam to seam, and not only on the cloth between the dips.
    """
    cap = piece.edge(CAP)
    ends = max(cap.start.imag, cap.end.imag) - SAME_POINT
    if not ends <= y < max(point.imag for point in cap.outline_points):
        return piece.width_at(y)
    before, after = piece.neighbours(CAP)
    return abs(_on(before, y, cap.start) - _on(after, y, cap.end))


def _on(seam: Edge, y: float, corner: Point) -> Point:
    """Return where a seam crosses a level nearest to a corner of it."""
    met = [point for part in seam.parts for point in part.meetings(complex(0, y), 1 + 0j)]
    return min(met, key=lambda point: abs(point - corner), default=corner)


def _through_armhole(piece: Piece, tape: Tape) -> bool:
    """Return whether a tape leaves a piece by its armhole, above the underarm, or by its sleeve."""
    at_underarm = abs(tape.leaves - piece.edge(tape.leaves_at).end) < _JUST_BELOW
    if tape.leaves_at in _OF_A_SLEEVE:
        return not (at_underarm and tape.leaves_at == UNDERARM)
    return tape.leaves_at == ARMHOLE and not at_underarm


def _under_the_arm(piece: Piece, y: float) -> Tape | None:
    """Return the highest tape below a level that passes under the armhole."""
    arm = ARMHOLE if ARMHOLE in piece.edge_names else UNDERARM
    high, low = y, piece.edge(arm).end.imag
    tape = tape_at(piece, low) if low > high else None
    if tape and not _through_armhole(piece, tape):
        return tape
    low = max(point.imag for point in piece.outline_points)
    for _ in range(_HALVINGS):
        middle = (high + low) / 2
        tape = tape_at(piece, middle)
        if tape and _through_armhole(piece, tape):
            high = middle
        else:
            low = middle
    return tape_at(piece, low)
