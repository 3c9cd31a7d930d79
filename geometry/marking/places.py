"""Where the marks of a piece lie: each at its place as the lines are now. Lengths in mm."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace

from trueup.geometry.errors import DoesNotFit, GeometryError, NoSuchName
from trueup.geometry.lines.points import Point, dot, unit
from trueup.geometry.lines.polygons import polyline
from trueup.geometry.pieces.beyond.marks import is_beyond
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.mark import (
    AtLevel,
    AtMouth,
    AtTip,
    BesideEdge,
    InnerMark,
    MarkPlace,
    OnEdge,
    Runs,
)
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT

_ALONG = 0.8
"""An end that moved by this share of its way along its line was cut back, not moved aside."""

_LEVEL = 1e-6
"""An edge that rises by less than this runs along a level, and does not meet it."""


@dataclass(frozen=True)
class PlaceFrame:
    """A place on the table, and the two directions in which marks are measured from it."""

    origin: Point
    along: complex
    inside: complex

    def __call__(self, way: Point) -> Point:
        """Return the point that lies so far along and inside."""
        return self.origin + self.along * way.real + self.inside * way.imag

    def way_to(self, point: Point) -> Point:
        """Return how far along and inside a point lies."""
        step = point - self.origin
        return complex((step / self.along).real, (step / self.inside).real)


def frame_of(piece: Piece, place: MarkPlace) -> PlaceFrame:
    """Return where a place lies on a piece; raises NoSuchName, BadPosition, DoesNotFit."""
    match place:
        case OnEdge():
            edge = piece.edge(place.edge)
            origin, travel = edge.place_at(place.at.along(edge))
            away = travel if place.at.corner == edge.starts_at else -travel
            return PlaceFrame(origin, away, travel * piece.inward)
        case AtLevel():
            origin, travel = _down_from_level(piece, place)
            return PlaceFrame(origin, travel if travel.imag > 0 else -travel, travel * piece.inward)
        case AtTip():
            tip, middle = _tip(piece, place)
            along = unit(middle - tip)
            return PlaceFrame(tip, along, along * 1j)
        case AtMouth():
            return _at_mouth(piece, place)
        case BesideEdge():
            edge = piece.edge(place.edge)
            travel = edge.parts[0].start_tangent
            inside = travel * piece.inward
            return PlaceFrame(edge.start + inside * place.inside, travel, inside)


def runs_of(piece: Piece, mark: InnerMark) -> Runs:
    """Return the points and lines of a mark where they lie; raises as `frame_of`."""
    if isinstance(mark.place, BesideEdge):
        return tuple(_beside(piece, mark.place))
    frame = frame_of(piece, mark.place)
    return tuple(tuple(map(frame, run)) for run in mark.runs)


def has_place(piece: Piece, mark: InnerMark) -> bool:
    """Return whether the place of a mark is still there."""
    try:
        frame_of(piece, mark.place)
    except GeometryError:
        return False
    return True


def without_lost_marks(draft: Draft, before: Draft) -> Draft:
    """Return a draft without the marks whose place is gone: they went with it.

    So a hole at the tip of a dart goes with the dart, a mark at the hip with the cloth cut off. One
    whose line was drawn anew, and became too short for it, stays and lies beyond its end.
    """
    lost = [piece for piece in draft.pieces if not all(has_place(piece, m) for m in piece.marks)]
    if not lost:
        return draft
    was = {piece.name: piece for piece in before.pieces}
    return draft.with_pieces(*(with_places(piece, was.get(piece.name)) for piece in lost))


def with_places(piece: Piece, before: Piece | None = None) -> Piece:
    """Return a piece with those of its marks whose place is there, or lies beyond a line's end.

    What was cut off of its line went with the mark; the piece `before` tells of that.
    """
    kept = tuple(
        mark
        for mark in piece.marks
        if has_place(piece, mark)
        or (is_beyond(piece, mark) and not _was_cut_off(piece, before, mark))
    )
    return piece if len(kept) == len(piece.marks) else replace(piece, marks=kept)


def _was_cut_off(piece: Piece, before: Piece | None, mark: InnerMark) -> bool:
    """Return whether the far end of a mark's line was cut back along itself, not drawn anew."""
    if before is None or not isinstance(mark.place, OnEdge):
        return False
    name, corner = mark.place.edge, mark.place.at.corner
    if name not in before.edge_names:
        return False
    was, now = before.edge(name), piece.edge(name)
    if corner == was.starts_at:
        step, ahead = now.end - was.end, was.parts[-1].end_tangent
    else:
        step, ahead = now.start - was.start, -was.parts[0].start_tangent
    return abs(step) > SAME_POINT and dot(step, ahead) < -_ALONG * abs(step)


def nearest_edge(piece: Piece, point: Point, edges: Collection[str]) -> OnEdge:
    """Return the place on some edges of a piece that is nearest to a point."""
    found: list[tuple[float, str, Position]] = []
    for edge in piece.edges:
        before = 0.0
        for part in edge.parts if edge.name in edges else ():
            along = float(part.nearest(point))
            away = abs(part.point_at(along) - point)
            found.append((away, edge.name, Position(edge.starts_at, distance=before + along)))
            before += part.length
    _, name, at = min(found, key=lambda each: each[0])
    return OnEdge(name, at)


def seen_from(piece: Piece, place: MarkPlace, runs: Runs) -> Runs:
    """Return points and lines of the table as they are seen from a place of a piece."""
    frame = frame_of(piece, place)
    return tuple(tuple(map(frame.way_to, run)) for run in runs)


def sewn_length_at_level(piece: Piece, edge: str, level: str) -> float:
    """Return how far from the start of an edge a level meets it, as sewn, mm.

    Raises NoSuchName, DoesNotFit where it does not meet it.
    """
    origin, _ = _at_level(piece, AtLevel(edge, level))
    done = 0.0
    for part in piece.edge(edge).parts:
        along = float(part.nearest(origin))
        if abs(part.point_at(along) - origin) < SAME_POINT:
            return done + along
        done += part.length
    return done


def _down_from_level(piece: Piece, place: AtLevel) -> tuple[Point, complex]:
    """Return a place so far down from a level along an edge, and how the edge runs there."""
    origin, travel = _at_level(piece, place)
    if place.down == 0:
        return origin, travel
    edge = piece.edge(place.edge)
    along = sewn_length_at_level(piece, place.edge, place.level)
    along += place.down if travel.imag > 0 else -place.down
    if not -SAME_POINT <= along <= edge.length + SAME_POINT:
        reason = said("edge-only", edge=edge.name, length=edge.length)
        raise DoesNotFit(reason, said("another-place"), piece=piece.name, edge=edge.name)
    return edge.place_at(min(max(along, 0.0), edge.length))


def _at_level(piece: Piece, place: AtLevel) -> tuple[Point, complex]:
    """Return where a level meets an edge, and how the edge runs there."""
    edge, level = piece.edge(place.edge), piece.level(place.level)
    found: tuple[Point, complex] | None = None
    if level.along is not None:
        # The level runs along the edge that this one meets at a corner.
        other = piece.edge(level.along)
        if edge.ends_at == other.starts_at:
            found = edge.end, edge.parts[-1].end_tangent
        elif edge.starts_at == other.ends_at:
            found = edge.start, edge.parts[0].start_tangent
    else:
        for part in edge.parts:
            for along in part.crossings(complex(0.0, level.y), 1 + 0j)[:1]:
                found = found or (part.point_at(along), part.tangent_at(along))
    if found is None or abs(found[1].imag) < _LEVEL:
        reason = said("level-not-met", level=level.name)
        raise DoesNotFit(reason, said("another-level"), piece=piece.name, edge=edge.name)
    return found


def _tip(piece: Piece, place: AtTip) -> tuple[Point, Point]:
    """Return the tip of a dart, and the middle of its mouth."""
    inner = inner_dart(piece, place.dart)
    if inner is not None:
        return inner.lower if place.lower else inner.upper, (inner.left + inner.right) / 2
    mouth = piece.mouth(place.dart)
    tip, middle = mouth.tip, (mouth.first + mouth.second) / 2
    if place.lower or abs(middle - tip) < SAME_POINT:
        raise NoSuchName("lower tip", place.dart, piece.name, ())
    return tip, middle


def inner_dart(piece: Piece, name: str) -> InnerDart | None:
    """Return a dart inside a piece by name, None where there is none."""
    return next((dart for dart in piece.inner_darts if dart.name == name), None)


def _at_mouth(piece: Piece, place: AtMouth) -> PlaceFrame:
    edge = piece.edge_of_dart(place.dart)
    index = next(k for k, dart in enumerate(edge.darts) if dart.name == place.dart)
    if place.second:
        part = edge.parts[index + 1]
        return PlaceFrame(part.start, part.start_tangent, part.start_tangent * piece.inward)
    part = edge.parts[index]
    return PlaceFrame(part.end, -part.end_tangent, part.end_tangent * piece.inward)


def _beside(piece: Piece, place: BesideEdge) -> Iterator[tuple[Point, ...]]:
    """Yield the line beside each part of an edge."""
    # Shapely lays a line out by a positive distance to the side of a quarter turn by +i.
    aside = place.inside * piece.inward.imag
    for part in piece.edge(place.edge).parts:
        line = polyline(part.flattened()).simplify(SAME_POINT)
        laid = line.offset_curve(aside, join_style="mitre") if aside else line
        runs = [run for run in getattr(laid, "geoms", [laid]) if not run.is_empty]
        for run in runs:
            yield tuple(complex(x, y) for x, y in run.coords)
