"""Draw half a hood to the neck it is sewn to, from the face to the seam over the head."""

import cmath
import math
from dataclasses import dataclass

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.following.bent import SEWN
from trueup.geometry.following.sewn_line import corners_between, runs_of
from trueup.geometry.lines.arcs import two_arcs
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point
from trueup.geometry.measuring.walk import run_length
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.drafted import HoodTo
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.move_corner import quarter_curve
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_LENGTH, SAME_POINT, SHORTEST_LEFT

FACE, CROWN = "face-edge", "crown"
DART = "neck"

_LEVEL_TOP = 0.35
"""Share of its depth for which the top of a hood runs level before it rounds the head."""

_ROUND = 0.45
"""Share of its height over which it rounds the head, at most."""

_MOST_ASIDE = 0.5
"""How far the back may slant from the head to the neck, as a share of the way down."""

_STEEPEST = 1.0
"""The steepest way from the one end of a neck edge to the other, radians."""


@dataclass(frozen=True)
class _NeckEdge:
    """The neck edge from the centre back to the face, level at both ends, and where its dart is."""

    parts: tuple[Chain, ...]
    apex: Point | None


def hood(draft: Draft, to: HoodTo) -> Piece:
    """Return half the hood as the line is now; raises NoSuchName, DoesNotFit.

    The face lies at the right, the neck below. The top runs level from the face, rounds the head,
    and comes down to the neck, where it arrives square.
    """
    runs = runs_of(draft, to.lines)
    length = run_length(draft, runs) - to.free
    if length < SHORTEST_LEFT:
        raise DoesNotFit(said("nothing-left"), said("leave-less-free"))
    corners = [(corner, at) for corner, at in corners_between(draft, runs) if at < length]
    at = corners[0][1] if corners else length / 2
    neck = _neck_edge(length, at, to)
    back, front = neck.parts[0].start, neck.parts[-1].end
    face = Chain.line(front, front - 1j * to.height)
    darts = () if neck.apex is None else (Dart(DART, neck.apex),)
    edges = (
        Edge(SEWN, "sewn-centre", "sewn-end", neck.parts, darts),
        Edge(FACE, "sewn-end", "face-top", (face,)),
        Edge(CROWN, "face-top", "sewn-centre", (_crown(face.end, back, to.depth),)),
    )
    notches = tuple(
        Notch(corner, SEWN, Position("sewn-centre", distance=along))
        for corner, along in corners
        if not darts or along != at
    )
    middle = front - to.depth * 0.25
    grain = Grainline(middle - 0.2j * to.height, middle - 0.7j * to.height)
    return Piece(to.piece, edges, (), notches, grain)


def _neck_edge(length: float, at: float, to: HoodTo) -> _NeckEdge:
    """Return the neck edge: one smooth line with its dart closed, level at its ends when open."""
    angle = 2 * math.asin(to.dart / (2 * to.dart_length)) if to.dart > SAME_POINT else 0.0

    def opened(slope: float) -> _NeckEdge:
        closed = two_arcs(0j, 1 + 0j, cmath.rect(1.0, slope), cmath.rect(1.0, angle))
        scale = length / closed.length
        line = closed.mapped(lambda point: point * scale)
        if not angle:
            return _NeckEdge((line,), None)
        before, after = line.split_at(at)
        apex = before.end - 1j * before.end_tangent * to.dart_length
        return _NeckEdge((before, after.moved(Motion.turn(apex, -angle))), apex)

    def lower(slope: float) -> float:
        return opened(slope).parts[-1].end.imag - to.drop

    found = root_between(lower, -_STEEPEST, _STEEPEST, SAME_LENGTH)
    if found is None:
        raise DoesNotFit(said("drops-too-far"))
    return opened(found)


def _crown(top: Point, neck: Point, depth: float) -> Chain:
    """Return the seam over the head, from the face to the neck.

    Raises DoesNotFit where the back of the head would lie too far before or behind the neck.
    """
    way = top - neck
    rounded = _rounded(depth, -way.imag)
    level = top - _LEVEL_TOP * depth
    head = complex(top.real - depth, top.imag + rounded)
    most = _MOST_ASIDE * (neck.imag - head.imag)
    aside = neck.real - head.real
    if aside > most:
        by = _depth_where(way, _MOST_ASIDE)
        reason, possible = said("hood-behind-neck", aside=aside), said("at-most-deep", by=by)
        raise DoesNotFit(reason, possible)
    if aside < -most:
        by = _depth_where(way, -_MOST_ASIDE)
        reason, possible = said("hood-before-neck", aside=-aside), said("at-least-deep", by=by)
        raise DoesNotFit(reason, possible)
    return Chain.joining(
        [
            Chain.line(top, level),
            quarter_curve(level, -1 + 0j, head, 1j),
            two_arcs(head, 1j, neck, 1j),
        ]
    )


def _rounded(depth: float, height: float) -> float:
    """Return over how much of its height a hood rounds the head, mm."""
    return min((1 - _LEVEL_TOP) * depth, _ROUND * height)


def _depth_where(way: complex, slant: float) -> float:
    """Return the depth at which the back slants so from the head to the neck; `way` leads up."""
    height = -way.imag
    plain = way.real + slant * (1 - _ROUND) * height
    if (1 - _LEVEL_TOP) * plain >= _ROUND * height:
        return plain
    return (way.real + slant * height) / (1 + slant * (1 - _LEVEL_TOP))
