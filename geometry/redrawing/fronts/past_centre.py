"""What a piece has past its centre: the other half, as a mirror shows it, and rings with it."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import shapely

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.points import Point, cross, dot, unit
from trueup.geometry.pieces.dart import Dart, InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import InnerMark, OnEdge, Purpose
from trueup.geometry.pieces.piece import Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.drawn_on import reversed_edge
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT, SHAPE_GRID, SHORTEST_LEFT

FRONT_EDGE = "front-edge"
CENTRE_LINE = "centre-line"


@dataclass(frozen=True)
class Mirror:
    """The centre as a mirror: a point of it, and the way along it."""

    point: Point
    along: complex

    def __call__(self, point: Point) -> Point:
        """Return where a point lies on the other half."""
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


def overlap_name(edge: str) -> str:
    """Return what the part of an edge is called that lies past the centre."""
    return f"overlap-{edge}"


def way_along(centre: Edge) -> complex:
    """Return the way along a centre; raises DoesNotFit where it is not straight."""
    along = unit(centre.end - centre.start)
    aside = max(abs(cross(along, p - centre.start)) for p in centre.outline.flattened())
    if centre.darts or aside > SHAPE_GRID:
        raise DoesNotFit(said("fold-is-bent", aside=aside), said("straighten-first"))
    return along


def turned(piece: Piece) -> Piece:
    """Return a piece with its edges told in the reverse order."""
    return replace(piece, edges=tuple(reversed_edge(edge) for edge in reversed(piece.edges)))


def others(piece: Piece, centre: str, kept: list[str]) -> Iterator[Edge]:
    """Yield the edges of a piece that stay as they are, on from those that may have been cut."""
    names = piece.edge_names
    first = names.index(kept[0])
    count = len(names) - (first - names.index(centre)) % len(names)
    for k in range(count):
        edge = piece.edges[(first + k) % len(names)]
        if edge.name not in kept:
            yield edge


def until(edge: Edge, length: float) -> Edge:
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


def without_start(edge: Edge, length: float) -> Edge:
    """Return an edge without its beginning; raises DoesNotFit where nothing would be left."""
    if length > edge.length - SHORTEST_LEFT:
        raise DoesNotFit(said("nothing-left"), said("another-place"))
    return reversed_edge(until(reversed_edge(edge), edge.length - length)) if length else edge


def kept_notch(old: Piece, new: Piece, notch: Notch) -> Notch | None:
    """Return a notch at its place on an edge whose start may be cut off; None where it is gone."""
    if notch.edge not in new.edge_names:
        return None
    was, now = old.edge(notch.edge), new.edge(notch.edge)
    along = notch.at.along(was) - (was.length - now.length)
    if was.starts_at == now.starts_at:
        return notch
    return replace(notch, at=Position(now.starts_at, distance=along)) if along >= 0 else None


def with_centre_line(piece: Piece, lower: Edge, centre: Edge) -> Piece:
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


def without_gone(draft: Draft, old: Piece, new: Piece) -> Draft:
    """Return a draft without the seams of a piece to its mirror, and the joins, of edges gone.

    Raises DoesNotFit where such an edge is sewn to anything else.
    """
    gone = {(old.name, name) for name in old.edge_names if name not in new.edge_names}
    sewn = [s for s in draft.seams if gone & {(run.piece, run.edge) for run in s.runs}]
    elsewhere = [seam.name for seam in sewn if not seam.meets_its_mirror]
    if elsewhere:
        raise DoesNotFit(said("sewn-by", seam=elsewhere[0]), said("change-before-drafting"))
    joins = tuple(j for j in draft.joins if not gone & {j.first[:2], j.second[:2]})
    return replace(draft, seams=tuple(s for s in draft.seams if s not in sewn), joins=joins)
