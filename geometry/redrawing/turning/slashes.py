"""Where a piece is slashed to be spread: straight cuts from an edge to their pivots across it."""

from collections.abc import Sequence
from dataclasses import dataclass

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.points import Point, cross, dot, unit
from trueup.geometry.lines.polygons import polygon, polyline
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.darts import require_no_dart
from trueup.geometry.said import Fact, said
from trueup.geometry.tolerance import CLOTH_LEFT, SHORTEST_LEFT

HEM = "hem"
CENTRE = "centre"
_FAR = 1e4


@dataclass(frozen=True)
class Slash:
    """A straight cut from a place along an edge to its pivot, a place on a part of another edge."""

    station: float
    foot: Point
    pivot: Point
    edge: str
    part: int
    length: float

    @property
    def height(self) -> float:
        """Return the length of the cut, mm."""
        return abs(self.foot - self.pivot)


Slashes = tuple[Slash, ...]


def stations_between(low: float, high: float, count: int) -> list[float]:
    """Return so many places along a line that part the stretch between two lengths evenly."""
    return [low + (high - low) * k / (count + 1) for k in range(1, count + 1)]


def square_to(piece: Piece, edge: Edge) -> Point:
    """Return the direction into the cloth, square to the straight way between an edge's ends."""
    return unit(edge.end - edge.start) * piece.inward


def slashes_along(piece: Piece, edge: Edge, stations: Sequence[float], heading: Point) -> Slashes:
    """Return slashes from places along an edge, each in a direction to the first edge it meets.

    Raises DoesNotFit where a slash meets a dart, a corner, an edge beside its own or a fold.
    """
    return tuple(_met(piece, edge, station, heading) for station in stations)


def slashes_to(
    piece: Piece, edge: Edge, stations: Sequence[float], to: str, low: float, high: float
) -> Slashes:
    """Return slashes from places along an edge to those that part another edge in as many shares.

    `low` and `high` are the ends of the stretch of the edge that goes with all of the other. Raises
    NoSuchName for an edge that is not there, DoesNotFit as `slashes_along` does.
    """
    other = piece.edge(to)
    if to in _beside(piece, edge):
        raise DoesNotFit(said("slash-beside", edge=to, line=edge.name), said("another-edge"))
    found = []
    for station in stations:
        # In the order of the outline the two run against each other.
        along = other.length * (1 - (station - low) / (high - low))
        foot, pivot = edge.parts[0].point_at(station), other.point_at(along)
        slash = _met(piece, edge, station, unit(pivot - foot))
        if slash.height < abs(pivot - foot) - SHORTEST_LEFT:
            raise _leaves(edge, station, slash.edge)
        found.append(slash)
    return tuple(found)


def _met(piece: Piece, edge: Edge, station: float, heading: Point) -> Slash:
    foot = edge.parts[0].point_at(station)
    met = [
        (dot(point - foot, heading), Slash(station, foot, point, other.name, index, length))
        for other in piece.edges
        for index, part in enumerate(other.parts)
        for length in part.crossings(foot, -heading)
        if dot((point := part.point_at(length)) - foot, heading) > SHORTEST_LEFT
    ]
    found = min(met, key=lambda each: each[0])[1] if met else None
    _require_free(piece, edge.name, station, foot, found.pivot if found else foot + _FAR * heading)
    if found is None or found.edge in _beside(piece, edge):
        raise _leaves(edge, station, found.edge if found else edge.name)
    return _held_to(piece, edge, found)


def _beside(piece: Piece, edge: Edge) -> set[str]:
    return {edge.name, *(each.name for each in piece.neighbours(edge.name))}


def _leaves(edge: Edge, station: float, at: str) -> DoesNotFit:
    reason = said("slash-leaves", at=station, line=edge.name, edge=at)
    return DoesNotFit(reason, said("fewer-slashes"), edge=edge.name)


def _held_to(piece: Piece, edge: Edge, slash: Slash) -> Slash:
    """Return a slash that ends away from corners and folds; raises DoesNotFit for another."""
    at: dict[str, Fact] = {"at": slash.station, "line": edge.name, "edge": slash.edge}
    length = piece.edge(slash.edge).parts[slash.part].length
    if not CLOTH_LEFT < slash.length < length - CLOTH_LEFT:
        raise DoesNotFit(said("slash-meets-corner", **at), said("other-slashes"), edge=edge.name)
    if slash.edge == piece.fold:
        raise DoesNotFit(said("slash-meets-fold", **at), said("another-edge"), edge=edge.name)
    return slash


def _require_free(piece: Piece, line: str, station: float, foot: Point, pivot: Point) -> None:
    cut = polyline((foot, pivot))
    wedges = {
        mouth.dart.name: polygon((mouth.first, mouth.dart.apex, mouth.second))
        for edge in piece.edges
        for mouth in edge.mouths
    }
    wedges |= {dart.name: dart.diamond for dart in piece.inner_darts}
    for dart, wedge in wedges.items():
        if wedge.intersects(cut):
            reason = said("slash-meets-dart", at=station, line=line, dart=dart)
            raise DoesNotFit(reason, said("dart-off-slash"), edge=line, dart=dart)


def strip_of(slashes: Slashes, edge: Edge, point: Point) -> int:
    """Return the strip that a point lies in: how many slashes there are before it along the edge.

    `edge` is the one that the slashes begin on.
    """
    onward = edge.end - edge.start

    def is_past(slash: Slash) -> bool:
        cut = slash.pivot - slash.foot
        return cross(cut, point - slash.foot) * cross(cut, onward) > 0

    return sum(map(is_past, slashes))


def whole_edge(piece: Piece, name: str) -> Edge:
    """Return an edge by name; raises DoesNotFit where a dart opens on it."""
    edge = piece.edge(name)
    if name != HEM:
        require_no_dart(edge)
    elif edge.darts:
        reason = said("dart-on-hem", dart=edge.darts[0].name)
        raise DoesNotFit(reason, said("dart-off-hem"), edge=name, dart=edge.darts[0].name)
    return edge


def held_strip(piece: Piece, edge: Edge, slashes: Slashes) -> int:
    """Return the strip that stays on the table.

    It is the one at the centre or the fold, else the one with the grainline.
    """
    before, after = piece.neighbours(edge.name)
    if {before.name} & {piece.fold, CENTRE}:
        return 0
    if {after.name} & {piece.fold, CENTRE}:
        return len(slashes)
    if piece.fold:
        return strip_of(slashes, edge, piece.edge(piece.fold).point_at(0.0))
    if piece.grainline:
        return strip_of(slashes, edge, (piece.grainline.start + piece.grainline.end) / 2)
    return len(slashes) // 2
