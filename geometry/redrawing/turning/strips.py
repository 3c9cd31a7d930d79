"""Slash a piece from its hem to the edge above and spread the strips, each turned about its pivot.

The cloth stays whole at the pivots, so the edges above keep their length; the hem gains what opens.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point, dot
from trueup.geometry.lines.polygons import polygon, polyline
from trueup.geometry.pieces.closed_line import end_to_end, smoothed_at
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.hem import at_hem
from trueup.geometry.redrawing.move_corner import meeting
from trueup.geometry.redrawing.turning.spread_line import spread_line
from trueup.geometry.said import said
from trueup.geometry.tolerance import CLOTH_LEFT, SHORTEST_LEFT

HEM = "hem"
_CENTRE = "centre"
_FAR = 1e4
_ROUNDED = 20.0
_LOST = 0.05
_TRIES = 8
_NEARER = 1e-6


@dataclass(frozen=True)
class Slash:
    """A cut straight up from a place along the hem to its pivot, a place on a part of an edge."""

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


@dataclass(frozen=True)
class Strips:
    """A piece slashed into strips, from the start of its hem to the end; one of them is `held`."""

    piece: Piece
    slashes: tuple[Slash, ...]
    held: int

    def spread(self, by: float) -> Piece:
        """Return the piece with its hem longer by so much, mm, opened alike at every slash."""
        hem = self.piece.edge(HEM)
        opened = by / len(self.slashes)
        for _ in range(_TRIES):
            motions = self._motions(opened)
            grown = self._hem(motions).length - hem.length
            if abs(grown - by) < _NEARER:
                break
            # What opens is measured on the drawn hem, which bends where the strips part.
            opened *= by / grown
        return at_hem(self._moved(motions))

    def _angle(self, slash: Slash, opened: float) -> float:
        if opened >= slash.height:
            raise DoesNotFit(said("opens-too-wide", height=slash.height), edge=HEM)
        return 2 * math.asin(opened / (2 * slash.height))

    def _motions(self, opened: float) -> list[Motion]:
        """Return how each strip is moved: turned about every pivot up to the held one."""
        hem = self.piece.edge(HEM)
        turns = []
        for slash in self.slashes:
            onward = hem.parts[0].tangent_at(slash.station)
            way = dot(onward, 1j * (slash.foot - slash.pivot))
            turns.append(math.copysign(self._angle(slash, opened), way))
        motions = [Motion()] * (len(self.slashes) + 1)
        for k in range(self.held, len(self.slashes)):
            motions[k + 1] = motions[k].after(Motion.turn(self.slashes[k].pivot, turns[k]))
        for k in range(self.held - 1, -1, -1):
            motions[k] = motions[k + 1].after(Motion.turn(self.slashes[k].pivot, -turns[k]))
        return motions

    def _moved(self, motions: Sequence[Motion]) -> Piece:
        edges = [
            edge if edge.name == HEM else self._edge(edge, motions) for edge in self.piece.edges
        ]
        moved = {edge.name: edge for edge in edges}
        before, after = (moved[each.name] for each in self.piece.neighbours(HEM))
        moved[HEM] = meeting(self._hem(motions), before.end, after.start)
        inner = tuple(self._carried(dart, motions) for dart in self.piece.inner_darts)
        return replace(
            self.piece, edges=tuple(moved[e.name] for e in self.piece.edges), inner_darts=inner
        )

    def _carried(self, dart: InnerDart, motions: Sequence[Motion]) -> InnerDart:
        hem, middle = self.piece.edge(HEM), (dart.left + dart.right) / 2
        motion = motions[_strip_of(self.slashes, hem, middle)]
        points = (dart.upper, dart.lower, dart.left, dart.right)
        return InnerDart(dart.name, *map(motion, points))

    def _strips_along(self) -> Iterator[tuple[str, int, list[tuple[Slash, int]], int]]:
        """Yield each part of the other edges in ring order: the slashes met on it, and its strips.

        Every slash comes with the strip that begins behind it; last is the strip at the part's end.
        """
        names = self.piece.edge_names
        first = names.index(HEM) + 1
        strip = len(self.slashes)
        for name in (*names[first:], *names[: first - 1]):
            for index in range(len(self.piece.edge(name).parts)):
                here = [s for s in self.slashes if (s.edge, s.part) == (name, index)]
                met = []
                for slash in sorted(here, key=lambda s: s.length):
                    strip -= 1
                    met.append((slash, strip))
                yield name, index, met, strip

    def _edge(self, edge: Edge, motions: Sequence[Motion]) -> Edge:
        parts, darts = [], []
        for name, index, met, strip in self._strips_along():
            if name != edge.name:
                continue
            parts.append(self._part(edge.parts[index], met, strip + len(met), motions))
            if index < len(edge.darts):
                dart = edge.darts[index]
                darts.append(replace(dart, apex=motions[strip](dart.apex)))
        same = all(new is old for new, old in zip(parts, edge.parts, strict=True))
        return edge if same else replace(edge, parts=tuple(parts), darts=tuple(darts))

    def _part(
        self,
        part: Chain,
        met: list[tuple[Slash, int]],
        strip: int,
        motions: Sequence[Motion],
    ) -> Chain:
        runs, low = [], 0.0
        for slash, following in met:
            runs.append(
                part.between(0.0, slash.length).between(low, slash.length).moved(motions[strip])
            )
            strip, low = following, slash.length
        runs.append((part.between(low, part.length) if met else part).moved(motions[strip]))
        line = end_to_end(runs)
        for k, (slash, following) in enumerate(met):
            turn = motions[following + 1].rotation / motions[following].rotation
            room = min(runs[k].length, runs[k + 1].length) / 2
            reach = min(_ROUNDED, room, 6 * _LOST / max(abs(turn - 1) ** 2, 1e-9))
            line = smoothed_at(line, slash.length, reach)
        return line

    def _hem(self, motions: Sequence[Motion]) -> Edge:
        """Return the hem with the middle of each strip moved along with it, fair between those."""
        hem = self.piece.edge(HEM)
        stations = [slash.station for slash in self.slashes]
        return replace(hem, parts=(spread_line(hem.parts[0], stations, motions),))


# --- where the slashes run ------------------------------------------------------------------------


def strips(piece: Piece, count: int) -> Strips:
    """Return a piece slashed straight up from so many places that part its hem evenly.

    Raises DoesNotFit where a dart opens on the hem, and where a slash meets a dart, a corner or an
    edge that meets the hem.
    """
    hem = piece.edge(HEM)
    if hem.darts:
        reason = said("dart-on-hem", dart=hem.darts[0].name)
        raise DoesNotFit(reason, said("dart-off-hem"), edge=HEM, dart=hem.darts[0].name)
    places = [hem.length * k / (count + 1) for k in range(1, count + 1)]
    slashes = tuple(_slash(piece, hem, station) for station in places)
    return Strips(piece, slashes, _held(piece, hem, slashes))


def _slash(piece: Piece, hem: Edge, station: float) -> Slash:
    foot = hem.parts[0].point_at(station)
    met = [
        Slash(station, foot, point, edge.name, index, length)
        for edge in piece.edges
        if edge.name != HEM
        for index, part in enumerate(edge.parts)
        for length in part.crossings(foot, 1j)
        if (point := part.point_at(length)).imag < foot.imag - SHORTEST_LEFT
    ]
    beside = {each.name for each in piece.neighbours(HEM)}
    found = max(met, key=lambda slash: slash.pivot.imag, default=None)
    _require_free(piece, station, foot, found.pivot if found else foot - _FAR * 1j)
    if found is None or found.edge in beside:
        edge = found.edge if found else HEM
        raise DoesNotFit(said("slash-runs-out", at=station, edge=edge), said("fewer-slashes"))
    length = piece.edge(found.edge).parts[found.part].length
    if not CLOTH_LEFT < found.length < length - CLOTH_LEFT:
        raise DoesNotFit(said("slash-at-end", at=station, edge=found.edge), said("other-slashes"))
    return found


def _require_free(piece: Piece, station: float, foot: Point, pivot: Point) -> None:
    cut = polyline((foot, pivot))
    wedges = {
        mouth.dart.name: polygon((mouth.first, mouth.dart.apex, mouth.second))
        for edge in piece.edges
        for mouth in edge.mouths
    }
    wedges |= {dart.name: dart.diamond for dart in piece.inner_darts}
    for dart, wedge in wedges.items():
        if wedge.intersects(cut):
            reason = said("slash-through-dart", at=station, dart=dart)
            raise DoesNotFit(reason, said("dart-off-slash"), edge=HEM, dart=dart)


def _held(piece: Piece, hem: Edge, slashes: tuple[Slash, ...]) -> int:
    """Return the strip that stays on the table: the one at the centre, else with the grainline."""
    before, after = piece.neighbours(HEM)
    if {before.name} & {piece.fold, _CENTRE}:
        return 0
    if {after.name} & {piece.fold, _CENTRE}:
        return len(slashes)
    if piece.grainline:
        return _strip_of(slashes, hem, (piece.grainline.start + piece.grainline.end) / 2)
    return len(slashes) // 2


def _strip_of(slashes: tuple[Slash, ...], hem: Edge, point: Point) -> int:
    """Return the strip that a point lies in: how many slashes there are before it along the hem."""
    onward = math.copysign(1.0, (hem.end - hem.start).real)
    return sum((point.real - slash.foot.real) * onward > 0 for slash in slashes)
