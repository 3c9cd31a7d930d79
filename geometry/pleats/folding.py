"""Where the pleats of a piece lie on it as it is sewn, and what cloth each of them takes.

A pleat's line runs straight from a place on one edge to a place on another; `across` it points on
along the first. Its cloth lies under that beside the line, on one side of it or on both, so that
its rims are those of the cloth above, turned over fold by fold. Lengths are mm.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from shapely import Polygon

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point, dot, unit
from trueup.geometry.lines.polygons import polygon, polyline
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece, Pleat, PleatStyle
from trueup.geometry.said import said
from trueup.geometry.tolerance import FLATTEN, SAME_POINT

BEFORE, AFTER = -1, 1
"""On which side of a pleat's line its cloth lies, as `across` points."""

_NEAR = 0.25


@dataclass(frozen=True)
class PleatFold:
    """A pleat found on its piece: its line, and how far along either edge it lies, as sewn.

    The second edge runs the other way; it is measured from its end. `sides` are those on which the
    cloth lies; on each it takes twice its depth.
    """

    pleat: Pleat
    start: Point
    end: Point
    station: float
    ends_station: float
    across: complex
    sides: tuple[int, ...]

    @property
    def along(self) -> complex:
        """Return the direction of the line, from the first edge to the other."""
        return unit(self.end - self.start)

    @property
    def take_up(self) -> float:
        """Return how much cloth it takes, across its line."""
        return 2 * self.pleat.depth * len(self.sides)

    def turned_over(self, point: Point) -> Point:
        """Return where a point lies after the cloth was turned over the line."""
        square = self.along * self.along
        return self.start + square * (point - self.start).conjugate()

    def met(self, line: Chain, at: float, offset: float) -> float:
        """Return how far along a rim the line moved by an offset meets it, near a length of it.

        The rim runs on in the direction that `across` has. Raises DoesNotFit where it does not.
        """
        if offset == 0:
            return at
        reached = line.crossings(self.start + offset * self.across, self.along)
        near = min(reached, key=lambda each: abs(each - at - offset), default=None)
        if near is None or abs(near - at - offset) > _NEAR * abs(offset) + 1.0:
            raise self.runs_out()
        return near

    def runs_out(self) -> DoesNotFit:
        """Return what is said where there is no cloth for the pleat to lie on."""
        name, depth = self.pleat.name, self.pleat.depth
        reason = said("pleat-runs-out", pleat=name, depth=depth, edge=self.pleat.edge)
        return DoesNotFit(reason, said("pleat-elsewhere"), edge=self.pleat.edge)

    def let_in(self, line: Chain, at: float) -> Iterator[Chain]:
        """Yield the rim of the pleat's cloth, in order, where it begins so far along a rim."""
        depth = self.pleat.depth
        before, after = None, None
        if BEFORE in self.sides:
            before = line.between(self.met(line, at, -depth), at)
        if AFTER in self.sides:
            after = line.between(at, self.met(line, at, depth))
        step = Motion(shift=2 * depth * self.across)
        if before:
            yield before.mapped(self.turned_over).reversed()
            yield before.moved(step)
        if after:
            forth = after.moved(step) if before else after
            yield forth
            back = after.mapped(self.turned_over).reversed().moved(step)
            yield back.moved(step) if before else back


@lru_cache(maxsize=512)
def folds(piece: Piece) -> tuple[PleatFold, ...]:
    """Return the pleats of a piece in the order of the edge on which they begin.

    Raises NoSuchName for an edge that is not there, BadPosition for a place that is not on it, and
    DoesNotFit where their lines cross or do not all run between the same two edges.
    """
    found = sorted((_fold(piece, pleat) for pleat in piece.pleats), key=lambda fold: fold.station)
    first = found[0].pleat if found else None
    for before, fold in pairwise(found):
        pleat = fold.pleat
        if first and (pleat.edge, pleat.ends) != (first.edge, first.ends):
            lines = {"edge": first.edge, "other": first.ends}
            reason = said("pleats-elsewhere", pleat=first.name, **lines)
            raise DoesNotFit(reason, said("pleat-between-those"), edge=pleat.edge)
        if fold.station - before.station < SAME_POINT or (
            fold.ends_station - before.ends_station < SAME_POINT
        ):
            reason = said("pleats-cross", pleat=pleat.name, other=before.pleat.name)
            raise DoesNotFit(reason, said("another-place"), edge=pleat.edge)
    return tuple(found)


def _fold(piece: Piece, pleat: Pleat) -> PleatFold:
    upper, lower = piece.edge(pleat.edge), piece.edge(pleat.ends)
    station, ends_along = pleat.at.along(upper), pleat.ends_at.along(lower)
    start, travel = upper.place_at(station)
    end = lower.point_at(ends_along)
    if abs(end - start) < SAME_POINT:
        raise DoesNotFit(said("pleat-no-line", pleat=pleat.name), said("another-place"))
    along = unit(end - start)
    across = along * 1j if dot(along * 1j, travel) > 0 else along * -1j
    ends_station = lower.length - ends_along
    sides = _sides(piece, pleat, station, ends_station)
    return PleatFold(pleat, start, end, station, ends_station, across, sides)


def _sides(piece: Piece, pleat: Pleat, station: float, ends_station: float) -> tuple[int, ...]:
    upper = piece.edge(pleat.edge)
    if pleat.style is PleatStyle.KNIFE:
        return (BEFORE if pleat.towards == upper.ends_at else AFTER,)
    before, after = (edge.name for edge in piece.neighbours(upper.name))
    length = piece.edge(pleat.ends).length
    if before == piece.fold and max(station, ends_station) < SAME_POINT:
        return (AFTER,)
    if after == piece.fold and min(station - upper.length, ends_station - length) > -SAME_POINT:
        return (BEFORE,)
    return BEFORE, AFTER


# --- where there is room --------------------------------------------------------------------------


def require_room(piece: Piece) -> None:
    """Raise DoesNotFit where a pleat of a piece has no cloth to lie on, or meets a dart.

    Raises as `folds` does, too.
    """
    for fold in folds(piece):
        lines = [
            (piece.edge(fold.pleat.edge), fold.station),
            (reversed_edge(piece.edge(fold.pleat.ends)), fold.ends_station),
        ]
        offsets = sorted({0.0, *(side * fold.pleat.depth for side in fold.sides)})
        for edge, station in lines:
            _require_one_part(edge, fold, [station + offset for offset in offsets])
        rims = [part_at(edge, station) for edge, station in lines]
        upper, lower = (
            [line.point_at(fold.met(line, at, offset)) for offset in offsets] for line, at in rims
        )
        _require_free(piece, fold, upper, lower)


def part_at(edge: Edge, station: float) -> tuple[Chain, float]:
    """Return the part of an edge on which a sewn length lies, and the length along it."""
    for part in edge.parts[:-1]:
        if station < part.length:
            return part, station
        station -= part.length
    return edge.parts[-1], min(station, edge.parts[-1].length)


def _require_one_part(edge: Edge, fold: PleatFold, stations: Sequence[float]) -> None:
    """Raise DoesNotFit where a dart opens on an edge between the first and the last of some places.

    Places are sewn lengths, mm.
    """
    done = 0.0
    for part, dart in zip(edge.parts, edge.darts, strict=False):
        done += part.length
        if min(stations) < done < max(stations):
            raise _over(fold, dart.name)


def _over(fold: PleatFold, dart: str) -> DoesNotFit:
    reason = said("pleat-meets-dart", pleat=fold.pleat.name, dart=dart)
    return DoesNotFit(reason, said("dart-off-pleat"), edge=fold.pleat.edge, dart=dart)


def _require_free(
    piece: Piece, fold: PleatFold, upper: Sequence[Point], lower: Sequence[Point]
) -> None:
    band = polygon((*upper, *reversed(lower)))
    for name, wedge in _wedges(piece):
        if wedge.intersects(band):
            raise _over(fold, name)
    cloth = piece.cloth.buffer(2 * FLATTEN)
    between = (fold.pleat.edge, fold.pleat.ends)
    others = [polyline(e.outline.flattened()) for e in piece.edges if e.name not in between]
    inside = band.buffer(-2 * FLATTEN)
    if not all(cloth.covers(polyline(ends)) for ends in zip(upper, lower, strict=True)) or any(
        line.intersects(inside) for line in others
    ):
        raise fold.runs_out()


def _wedges(piece: Piece) -> Iterator[tuple[str, Polygon]]:
    for edge in piece.edges:
        for mouth in edge.mouths:
            yield mouth.dart.name, polygon((mouth.first, mouth.tip, mouth.second))
    for dart in piece.inner_darts:
        yield dart.name, dart.diamond


def reversed_edge(edge: Edge) -> Edge:
    """Return an edge travelled the other way, as the second edge is beside the first."""
    parts, darts = tuple(part.reversed() for part in edge.parts[::-1]), edge.darts[::-1]
    return Edge(edge.name, edge.ends_at, edge.starts_at, parts, darts, edge.shaped)
