"""Fold a wedge out of a piece, or let one in, from a line to a point on another line."""

import math
from dataclasses import replace

from shapely import Polygon
from shapely.geometry import Point as ShapelyPoint

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point, dot
from trueup.geometry.lines.polygons import polygon, polyline
from trueup.geometry.pieces.closed_line import end_to_end, reshaped, smoothed_at
from trueup.geometry.pieces.dart import Dart, InnerDart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.turning.ring import Halves, Stretch, halves, joined_edges
from trueup.geometry.said import said
from trueup.geometry.tolerance import FLATTEN, SAME_LENGTH, SHORTEST_LEFT

WEDGE = "wedge"
"""What the dart is called that stands for the wedge while it is folded out."""

_ASLANT = 0.5
_EASING = 40.0
"""The lines are drawn fair over so much to either side of where they are folded, mm."""


def wedged(piece: Piece, edge: str, at: float, to: str, to_at: float, by: float) -> Piece:
    """Return a piece with a wedge folded out so that an edge is `by` mm shorter, as sewn.

    It is widest at a sewn length along that edge, and comes to a point at one along another, about
    which the paper on the one side of it is turned, with all that lies on it; a negative amount
    lets a wedge in. Both lines are drawn fair where they are folded. Raises DoesNotFit where the
    fold leaves the cloth or meets a dart that opens on an edge.
    """
    wanted = piece.edge(edge).length - by

    def longer(width: float) -> float:
        return folded(piece, edge, at, to, to_at, width).edge(edge).length - wanted

    # A fold that lies aslant, and the drawing fair, make it differ a little from its width.
    width = root_between(longer, by * (1 - _ASLANT), by * (1 + _ASLANT), SAME_LENGTH)
    if width is None:
        raise DoesNotFit(said("fold-aslant"), said("another-place"), edge=edge)
    return folded(piece, edge, at, to, to_at, width)


def folded(piece: Piece, edge: str, at: float, to: str, to_at: float, by: float) -> Piece:
    """Return a piece with a wedge folded out that is `by` mm wide along an edge, as `wedged`."""
    opened = with_mouth(piece, edge, at, max(by, 0.0))
    part, length = placed(opened.edge(to), to_at)
    pivot = opened.edge(to).parts[part].point_at(length)
    opened = aimed_at(opened, edge, pivot)
    cut = halves(opened, WEDGE, to, part, length)
    _require_free(cut, edge)
    mouth = cut.mouth
    angle = mouth.angle if by > 0 else _opening(mouth.first, pivot, -by)
    turned = _turned(cut, angle, opens=by < 0)
    fair = turned.with_edges(_eased(turned.edge(edge), at - max(by, 0) / 2, max(-by, 0.0)))
    return fair.with_edges(_eased(fair.edge(to), to_at, 0.0))


def with_mouth(piece: Piece, name: str, at: float, by: float) -> Piece:
    """Return the piece with a mouth, so wide along an edge, in place of what is folded out."""
    edge = piece.edge(name)
    if name == piece.fold:
        raise DoesNotFit(said("on-fold"), said("name-another-edge"), edge=name)
    part, length = placed(edge, at, by / 2 + SHORTEST_LEFT)
    line = edge.parts[part]
    before, after = line.split_at(length - by / 2)[0], line.split_at(length + by / 2)[1]
    parts = (*edge.parts[:part], before, after, *edge.parts[part + 1 :])
    darts = (*edge.darts[:part], Dart(WEDGE, before.end), *edge.darts[part:])
    return piece.with_edges(replace(edge, parts=parts, darts=darts))


def aimed_at(piece: Piece, name: str, pivot: Point) -> Piece:
    """Return the piece with the mouth on an edge aimed at where the wedge ends."""
    edge = piece.edge(name)
    darts = (replace(d, apex=pivot) if d.name == WEDGE else d for d in edge.darts)
    return piece.with_edges(replace(edge, darts=tuple(darts)))


def placed(edge: Edge, at: float, room: float = SHORTEST_LEFT) -> tuple[int, float]:
    """Return the part of an edge, and the length along it, that lies so far along as sewn.

    Raises DoesNotFit without so much `room` there, mm, up to a dart or an end.
    """
    for index, part in enumerate(edge.parts):
        if room < at < part.length - room:
            return index, at
        at -= part.length
    reason = said("line-near-end", left=room)
    raise DoesNotFit(reason, said("another-place"), edge=edge.name)


def _require_free(cut: Halves, edge: str) -> None:
    fold = polyline((cut.mouth.first, cut.place))
    for other in cut.piece.edges:
        for mouth in other.mouths:
            legs = polyline((mouth.first, mouth.tip, mouth.second))
            if mouth.dart.name != WEDGE and legs.intersects(fold):
                reason = said("crosses-dart", dart=f"{cut.piece.name}.{mouth.dart.name}")
                raise DoesNotFit(reason, said("another-place"), edge=edge, dart=mouth.dart.name)
    paper = polygon(p for e in cut.piece.edges for part in e.parts for p in part.flattened())
    if not paper.buffer(2 * FLATTEN).covers(fold):
        raise DoesNotFit(said("fold-leaves-cloth"), said("another-place"), edge=edge)


def _opening(mouth: Point, pivot: Point, by: float) -> float:
    away = abs(mouth - pivot)
    if by >= away:
        raise DoesNotFit(said("opens-too-far"), said("use-at-most", by=away / 2), edge="")
    return 2 * math.asin(by / (2 * away))


def _turned(cut: Halves, angle: float, *, opens: bool) -> Piece:
    """Return the piece with one half turned about the pivot, and the two joined again."""
    pivot, outward, homeward = cut.mouth.dart.apex, cut.outward, cut.homeward
    turns, line = (outward, outward[0].line) if cut.outward_turns else (homeward, homeward[-1].line)
    motion = Motion.turn(pivot, angle if cut.outward_turns or opens else -angle)
    if opens:
        # Away from the other half: the half beyond the mouth onwards, the one before it back.
        ahead = line.start_tangent if cut.outward_turns else -line.end_tangent
        at = line.start if cut.outward_turns else line.end
        if dot(motion(at) - at, ahead) < 0:
            motion = Motion.turn(pivot, -angle)
    paper = polygon((pivot, *(p for stretch in turns for p in stretch.line.flattened()))).buffer(0)
    inner = tuple(_carried(dart, paper, motion) for dart in cut.piece.inner_darts)
    moved = tuple(_moved(stretch, motion) for stretch in turns)
    outward, homeward = (moved, homeward) if cut.outward_turns else (outward, moved)
    mouth = replace(outward[0], line=end_to_end([homeward[-1].line, outward[0].line]))
    place = replace(homeward[0], line=end_to_end([outward[-1].line, homeward[0].line]))
    ring = (mouth, *outward[1:-1], place, *homeward[1:-1])
    return replace(cut.piece, edges=joined_edges(cut.piece, ring), inner_darts=inner)


def _carried(dart: InnerDart, paper: Polygon, motion: Motion) -> InnerDart:
    """Return a dart inside a piece with those of its points moved that lie in the turned paper."""

    def carried(point: Point) -> Point:
        return motion(point) if paper.covers(ShapelyPoint(point.real, point.imag)) else point

    points = (dart.upper, dart.lower, dart.left, dart.right)
    return InnerDart(dart.name, *map(carried, points))


def _moved(stretch: Stretch, motion: Motion) -> Stretch:
    dart = stretch.dart
    if dart and dart.name != WEDGE:
        dart = replace(dart, apex=motion(dart.apex))
    return Stretch(stretch.edge, stretch.line.moved(motion), dart)


def _eased(edge: Edge, at: float, step: float) -> Edge:
    """Return an edge drawn fair where it was folded, or where a step of some length was let in."""

    def eased(line: Chain) -> Chain:
        return smoothed_at(line, at + step / 2, _EASING + step / 2)

    return reshaped(edge, eased)
