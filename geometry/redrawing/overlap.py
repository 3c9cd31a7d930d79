"""Draw a front past its centre, along a new edge, with what the other half has there."""

import cmath
import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import shapely

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_join
from trueup.geometry.lines.points import Point, cross, dot, unit
from trueup.geometry.pieces.dart import Dart, InnerDart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import InnerMark, OnEdge, Purpose
from trueup.geometry.pieces.piece import Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.drawn_on import reversed_edge
from trueup.geometry.redrawing.move_corner import meeting
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_AREA, SAME_POINT, SHAPE_GRID, SHORTEST_LEFT

FRONT_EDGE = "front-edge"
CENTRE_LINE = "centre-line"


@dataclass(frozen=True)
class Overlap:
    """How far a front goes past its centre: the place where its edge begins, and where it ends.

    The edge begins on `starts`, on that of the other half where it lies `beyond` the centre, and
    ends so far past the centre, mm, along the edge below; it bows out by `curve`.
    """

    centre: str
    starts: str
    at: Position
    beyond: bool
    by: float
    curve: float


def overlapped(piece: Piece, to: Overlap) -> Piece:
    """Return a piece drawn past its centre; raises NoSuchName, BadPosition, DoesNotFit."""
    before, after = piece.neighbours(to.centre)
    over, _ = piece.neighbours(before.name)
    if to.starts in (before.name, over.name) and to.starts != after.name:
        # Worked on in the order in which the centre is followed by where the edge begins.
        turned = _overlapped(_turned(piece), to)
        return _turned(turned)
    return _overlapped(piece, to)


def overlap_name(edge: str) -> str:
    """Return what the part of an edge is called that lies past the centre."""
    return f"overlap-{edge}"


def _turned(piece: Piece) -> Piece:
    return replace(piece, edges=tuple(reversed_edge(edge) for edge in reversed(piece.edges)))


def _overlapped(piece: Piece, to: Overlap) -> Piece:
    centre = piece.edge(to.centre)
    lower, upper = piece.neighbours(to.centre)
    mirror = _Mirror(centre.start, _straight(centre))
    below = _until(mirror.edge(reversed_edge(lower)), to.by)
    above, kept = _upper(piece, upper, mirror, to)
    end, start = below.end, above.end if above else kept[0].start
    corners = f"{FRONT_EDGE}-{lower.name}", f"{FRONT_EDGE}-{to.starts}"
    drawn = _bowed(end, start, to.curve * -piece.inward)
    past = [
        replace(below, name=overlap_name(lower.name), starts_at=lower.ends_at, ends_at=corners[0]),
        Edge(FRONT_EDGE, *corners, (drawn,)),
    ]
    if above:
        back = replace(above, name=overlap_name(upper.name), starts_at=upper.starts_at)
        past.append(reversed_edge(replace(back, ends_at=corners[1])))
    else:
        kept[0] = replace(kept[0], starts_at=corners[1])
    names = [edge.name for edge in kept]
    ring = [*past, *kept, *_others(piece, to.centre, names)]
    changed = replace(
        piece,
        edges=tuple(ring),
        inner_darts=(),
        notches=(),
        fold=None,
        allowances=tuple(a for a in piece.allowances if a[0] in [edge.name for edge in ring]),
    )
    inner = tuple(_inner_darts(piece, changed, mirror))
    notches = tuple(filter(None, (_kept_notch(piece, changed, n) for n in piece.notches)))
    return _with_centre_line(replace(changed, inner_darts=inner, notches=notches), lower, centre)


def _others(piece: Piece, centre: str, kept: list[str]) -> Iterator[Edge]:
    """Yield the edges of a piece that stay as they are, on from those that may have been cut."""
    names = piece.edge_names
    first = names.index(kept[0])
    count = len(names) - (first - names.index(centre)) % len(names)
    for k in range(count):
        edge = piece.edges[(first + k) % len(names)]
        if edge.name not in kept:
            yield edge


@dataclass(frozen=True)
class _Mirror:
    """The centre as a mirror: a point of it, and the way along it."""

    point: Point
    along: complex

    def __call__(self, point: Point) -> Point:
        return self.point + self.along * ((point - self.point) / self.along).conjugate()

    def edge(self, edge: Edge) -> Edge:
        """Return an edge of the other half, with darts of their own names."""
        parts = tuple(part.mapped(self) for part in edge.parts)
        darts = tuple(
            Dart(_other(dart.name), self(dart.apex), dart.setback, dart.turned)
            for dart in edge.darts
        )
        return replace(edge, parts=parts, darts=darts)

    def inner(self, dart: InnerDart) -> InnerDart:
        """Return a dart inside the other half."""
        upper, lower, left, right = map(self, (dart.upper, dart.lower, dart.right, dart.left))
        return InnerDart(_other(dart.name), upper, lower, left, right)


def _other(dart: str) -> str:
    return f"other-{dart}"


def _straight(centre: Edge) -> complex:
    """Return the way along a centre; raises DoesNotFit where it is not straight."""
    along = unit(centre.end - centre.start)
    aside = max(abs(cross(along, p - centre.start)) for p in centre.outline.flattened())
    if centre.darts or aside > SHAPE_GRID:
        raise DoesNotFit(said("fold-is-bent", aside=aside), said("straighten-first"))
    return along


def _upper(
    piece: Piece, upper: Edge, mirror: _Mirror, to: Overlap
) -> tuple[Edge | None, list[Edge]]:
    """Return the edge above as far as it goes past the centre, and what stays of the own half."""
    over = piece.neighbours(upper.name)[1]
    along = to.at.along(piece.edge(to.starts))
    if to.beyond and to.starts == upper.name:
        if along < SHORTEST_LEFT:
            return None, [upper]
        return _until(meeting(mirror.edge(upper), start=upper.start), along), [upper]
    if to.starts == upper.name:
        return None, [_after(upper, along)]
    if to.starts == over.name and not to.beyond:
        return None, [_after(over, along) if along > SAME_POINT else over]
    raise DoesNotFit(said("edge-not-above", edge=to.starts), said("name-another-edge"))


def _until(edge: Edge, length: float) -> Edge:
    """Return the beginning of an edge of so much sewn length; raises DoesNotFit beyond its end."""
    if length > edge.length - SHORTEST_LEFT:
        reason = said("edge-ends-before", edge=edge.name, length=edge.length)
        raise DoesNotFit(reason, largest=edge.length - SHORTEST_LEFT)
    done = 0.0
    for k, part in enumerate(edge.parts):
        if length < done + part.length + SAME_POINT:
            cut = part.between(0.0, length - done)
            return replace(edge, parts=(*edge.parts[:k], cut), darts=edge.darts[:k])
        done += part.length
    return edge


def _after(edge: Edge, length: float) -> Edge:
    """Return an edge without its beginning; raises DoesNotFit where nothing would be left."""
    if length > edge.length - SHORTEST_LEFT:
        raise DoesNotFit(said("nothing-left"), said("another-place"))
    return reversed_edge(_until(reversed_edge(edge), edge.length - length)) if length else edge


def _bowed(start: Point, end: Point, aside: complex) -> Chain:
    """Return a line that bows out by an arc; `aside` turns its way to where, and says how far."""
    if abs(aside) < SAME_POINT:
        return Chain.line(start, end)
    way = end - start
    angle = 2 * math.atan(2 * abs(aside) / abs(way))
    turn = cmath.rect(1.0, math.copysign(angle, (aside / 1j).real))
    return smooth_join(start, way * turn, end, way / turn)


def _inner_darts(piece: Piece, changed: Piece, mirror: _Mirror) -> Iterator[InnerDart]:
    """Yield the darts inside both halves that lie in the new cloth whole.

    Raises DoesNotFit where the new edge runs across one of the half itself.
    """
    cloth = shapely.make_valid(changed.outline_polygon)
    for dart in piece.inner_darts:
        if cloth.covers(dart.diamond):
            yield dart
        elif cloth.intersection(dart.diamond).area > SAME_AREA:
            reason, possible = said("crosses-dart", dart=dart.name), said("smaller-or-move-dart")
            raise DoesNotFit(reason, possible, dart=dart.name)
    yield from filter(lambda d: cloth.covers(d.diamond), map(mirror.inner, piece.inner_darts))


def _kept_notch(old: Piece, new: Piece, notch: Notch) -> Notch | None:
    """Return a notch at its place on an edge whose start may be cut off; None where it is gone."""
    if notch.edge not in new.edge_names:
        return None
    was, now = old.edge(notch.edge), new.edge(notch.edge)
    along = notch.at.along(was) - (was.length - now.length)
    if was.starts_at == now.starts_at:
        return notch
    return replace(notch, at=Position(now.starts_at, distance=along)) if along >= 0 else None


def _with_centre_line(piece: Piece, lower: Edge, centre: Edge) -> Piece:
    """Return a piece with its centre marked: there it lies on the centre of the other half."""
    along = -lower.parts[-1].end_tangent
    into = -along * piece.inward
    way = centre.end - centre.start
    if not piece.cloth.buffer(SHAPE_GRID).covers(shapely.Point(centre.end.real, centre.end.imag)):
        outline = piece.edge(FRONT_EDGE).outline
        way = min((p - centre.start for p in outline.meetings(centre.start, way)), key=abs)
    run = (0j, complex(dot(way, along), dot(way, into)))
    place = OnEdge(lower.name, Position(lower.ends_at, distance=0.0))
    return piece.with_marks(InnerMark(CENTRE_LINE, Purpose.PLACEMENT, place, (run,)))
