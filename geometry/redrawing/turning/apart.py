"""Slash a piece from one edge to another and move the strips apart, all by as much.

Both edges gain alike, for the strips stay parallel; what they gain is fullness.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from shapely import Polygon

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point, dot, unit
from trueup.geometry.lines.polygons import polygon, polyline
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.hems.hem import at_hem
from trueup.geometry.redrawing.move_corner import meeting
from trueup.geometry.redrawing.trued_dart import displaced
from trueup.geometry.said import said
from trueup.geometry.tolerance import CLOTH_LEFT, FLATTEN

_CENTRE = "centre"
_HEM = "hem"
_TRIES = 12
_STIFF = 40.0
_CURVES = 12
_NEARER = 1e-6


@dataclass(frozen=True)
class ParallelStrips:
    """A piece slashed between two of its edges, at lengths along the first, mm.

    The strips move `across` the slashes; `held` is the one that stays.
    """

    piece: Piece
    upper: str
    lower: str
    stations: tuple[float, ...]
    across: complex
    held: int

    def apart(self, by: float) -> Piece:
        """Return the piece with its first edge longer by so much, mm, opened alike at every slash.

        The second gains as much, but for how much more or less aslant it lies.
        """
        line = self.piece.edge(self.upper).parts[0]
        opened = by / len(self.stations)
        for _ in range(_TRIES):
            grown = _drawn_out(line, self._motions(opened)).length - line.length
            if abs(grown - by) < _NEARER:
                break
            opened *= by / grown
        return self._moved(self._motions(opened))

    def _motions(self, opened: float) -> list[Motion]:
        strips = range(-self.held, len(self.stations) + 1 - self.held)
        return [Motion(shift=k * opened * self.across) for k in strips]

    def _moved(self, motions: list[Motion]) -> Piece:
        piece = self.piece
        edges = {edge.name: self._edge(edge, motions) for edge in piece.edges}
        for name in (self.upper, self.lower):
            before, after = (edges[each.name] for each in piece.neighbours(name))
            edges[name] = meeting(edges[name], before.end, after.start)
        moved = replace(
            piece,
            edges=tuple(edges[name] for name in piece.edge_names),
            inner_darts=tuple(self._inner(dart, motions) for dart in piece.inner_darts),
            notches=tuple(map(self._notch, piece.notches)),
            grainline=self._grainline(motions),
        )
        return at_hem(moved) if _HEM in (self.upper, self.lower) else moved

    def _edge(self, edge: Edge, motions: list[Motion]) -> Edge:
        if edge.name == self.upper:
            return replace(edge, parts=(_drawn_out(edge.parts[0], motions),))
        if edge.name == self.lower:
            drawn = _drawn_out(edge.parts[0].reversed(), motions).reversed()
            return replace(edge, parts=(drawn,))
        last = strip_of_edge(self.piece, self.upper, self.lower, edge.name)
        motion = motions[-1 if last else 0]
        if motion.shift == 0:
            return edge
        darts = tuple(replace(dart, apex=motion(dart.apex)) for dart in edge.darts)
        return replace(edge, parts=tuple(p.moved(motion) for p in edge.parts), darts=darts)

    def _inner(self, dart: InnerDart, motions: list[Motion]) -> InnerDart:
        motion = motions[self.strip_at((dart.left + dart.right) / 2)]
        points = (dart.upper, dart.lower, dart.left, dart.right)
        return InnerDart(dart.name, *map(motion, points))

    def strip_at(self, point: Point) -> int:
        """Return the strip in which a point lies."""
        line = self.piece.edge(self.upper).parts[0]
        starts = map(line.point_at, self.stations)
        return sum(dot(point - start, self.across) > 0 for start in starts)

    def _notch(self, notch: Notch) -> Notch:
        """Return a notch at the share of a spread edge at which it lay; any other as it was."""
        if notch.edge not in (self.upper, self.lower) or notch.at.distance is None:
            return notch
        share = notch.at.distance / self.piece.edge(notch.edge).length
        return replace(notch, at=Position(notch.at.corner, share=min(share, 1.0)))

    def _grainline(self, motions: list[Motion]) -> Grainline | None:
        grain = self.piece.grainline
        if grain is None:
            return None
        motion = motions[self.strip_at((grain.start + grain.end) / 2)]
        return Grainline(motion(grain.start), motion(grain.end))


def _drawn_out(line: Chain, motions: Sequence[Motion]) -> Chain:
    """Return a spread edge as one fair line: it is drawn out evenly between its two ends.

    The ends move with their strips as they are, for a waist that rises to the side would bend too
    tightly there; between them every stretch gains alike.
    """
    first, last, total = motions[0].shift, motions[-1].shift, line.length
    stiff = max(min(_STIFF, total / 4), total / (2 * len(motions)))
    low, high = stiff, total - stiff
    ramp = (high - low) / 3

    def field(at: float) -> tuple[complex, complex]:
        share, slope = _ramped((at - low) / (high - low), ramp / (high - low))
        return first + (last - first) * share, (last - first) * slope / (high - low)

    evenly = [total * k / _CURVES for k in range(1, _CURVES)]
    return displaced(line.cut_at([low, low + ramp, high - ramp, high, *evenly]), field)


def _ramped(t: float, ramp: float) -> tuple[float, float]:
    """Return a share from 0 to 1 that rises evenly but for a ramp at either end, and its slope."""
    if t > 0.5:
        share, slope = _ramped(1 - t, ramp)
        return 1 - share, slope
    s, even = min(max(t / ramp, 0.0), 1.0), 1 / (1 - ramp)
    if s < 1:
        return even * ramp * s**3 * (1 - s / 2), even * s * s * (3 - 2 * s)
    return even * (t - ramp / 2), even


def strip_of_edge(piece: Piece, upper: str, lower: str, name: str) -> int:
    """Return 0 for an edge beside the first strip between two edges, 1 for one beside the last."""
    names = piece.edge_names
    first = names.index(upper)
    in_order = (*names[first + 1 :], *names[:first])
    return int(in_order.index(name) < in_order.index(lower))


def strips_between(piece: Piece, upper: str, lower: str, count: int) -> ParallelStrips:
    """Return a piece slashed down its grain from so many places that part an edge evenly.

    Raises NoSuchName for an edge, DoesNotFit where a dart opens on either, a slash meets one, or
    does not run from the one edge to the other.
    """
    for name in (upper, lower):
        edge = piece.edge(name)
        if name == piece.fold:
            raise DoesNotFit(said("on-fold"), said("name-another-edge"), edge=name)
        if edge.darts:
            reason = said("dart-on-spread", dart=edge.darts[0].name, edge=name)
            raise DoesNotFit(reason, said("dart-off-first"), edge=name, dart=edge.darts[0].name)
    if upper == lower:
        raise DoesNotFit(said("line-on-one-edge"), said("two-edges"), edge=upper)
    line, grain = piece.edge(upper).parts[0], piece.grainline
    down = unit(grain.end - grain.start) if grain and grain.start != grain.end else 1j
    stations = tuple(line.length * k / (count + 1) for k in range(1, count + 1))
    feet = tuple(_foot(piece, upper, lower, station, down) for station in stations)
    travel = line.end - line.start
    across = down * 1j if dot(down * 1j, travel) > 0 else down * -1j
    if any(after - before < CLOTH_LEFT for before, after in pairwise((0.0, *feet))):
        raise _runs_out(upper, lower, stations[0])
    found = ParallelStrips(piece, upper, lower, stations, across, 0)
    return replace(found, held=_held(found))


def _foot(piece: Piece, upper: str, lower: str, station: float, down: complex) -> float:
    """Return how far from the end of the lower edge a slash comes to it."""
    start = piece.edge(upper).parts[0].point_at(station)
    line = piece.edge(lower).parts[0].reversed()
    met = [at for at in line.crossings(start, down) if dot(line.point_at(at) - start, down) > 0]
    foot = min(met, key=lambda at: abs(line.point_at(at) - start), default=None)
    if foot is None or not CLOTH_LEFT < foot < line.length - CLOTH_LEFT:
        raise _runs_out(upper, lower, station)
    slash = polyline((start, line.point_at(foot)))
    for dart, wedge in _wedges(piece):
        if wedge.intersects(slash):
            reason = said("spread-through-dart", at=station, edge=upper, dart=dart)
            raise DoesNotFit(reason, said("dart-off-slash"), edge=upper, dart=dart)
    if not piece.cloth.buffer(2 * FLATTEN).covers(slash):
        raise _runs_out(upper, lower, station)
    return foot


def _runs_out(upper: str, lower: str, station: float) -> DoesNotFit:
    reason = said("spread-runs-out", at=station, edge=upper, other=lower)
    return DoesNotFit(reason, said("fewer-slashes"), edge=upper)


def _wedges(piece: Piece) -> Iterator[tuple[str, Polygon]]:
    for edge in piece.edges:
        for mouth in edge.mouths:
            yield mouth.dart.name, polygon((mouth.first, mouth.dart.apex, mouth.second))
    for dart in piece.inner_darts:
        yield dart.name, dart.diamond


def _held(strips: ParallelStrips) -> int:
    """Return the strip that stays: the one at the fold, else at the centre, else with the grain."""
    piece, last = strips.piece, len(strips.stations)
    for held in (piece.fold, _CENTRE):
        if held in piece.edge_names and held not in (strips.upper, strips.lower):
            return last * strip_of_edge(piece, strips.upper, strips.lower, held)
    grain = piece.grainline
    return strips.strip_at((grain.start + grain.end) / 2) if grain else last // 2
