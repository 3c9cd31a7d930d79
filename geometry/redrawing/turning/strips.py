"""Slash a piece from one of its edges and spread the strips, each turned about its pivot.

The cloth stays whole at the pivots: other edges keep their length, the edge gains what opens.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point, dot, turn_between
from trueup.geometry.pieces.closed_line import end_to_end, smoothed_at
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Level, Piece
from trueup.geometry.redrawing.hems.hem import at_hem
from trueup.geometry.redrawing.marks import carried_notch
from trueup.geometry.redrawing.move_corner import meeting
from trueup.geometry.redrawing.turning.slashes import (
    CENTRE,
    HEM,
    Slash,
    Slashes,
    held_strip,
    slashes_along,
    slashes_to,
    square_to,
    stations_between,
    strip_of,
    whole_edge,
)
from trueup.geometry.redrawing.turning.spread_line import spread_field, spread_line
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_LENGTH, SAME_POINT

_ROUNDED = 20.0
_LOST = 0.05
_TRIES = 8
_NEARER = 1e-6


@dataclass(frozen=True)
class Strips:
    """A piece slashed from an edge into strips, from its start to its end; one of them is `held`.

    `stretch` are the lengths along the edge between which it is spread; beyond, it goes along with
    the outer strips. Where a `middle` is given, the piece is turned about that point until the ends
    of the edge lie in the direction in which they lay.
    """

    piece: Piece
    edge: Edge
    stretch: tuple[float, float]
    slashes: Slashes
    held: int
    middle: Point | None = None

    def spread(self, by: float) -> Piece:
        """Return the piece with its edge longer by so much, mm, opened alike at every slash."""
        return self._moved(self._solved(by))

    def spread_with_marks(self, by: float) -> Piece:
        """Return the piece spread as `spread` does, with what is marked on it gone along."""
        return self._with_marks(self._solved(by))

    def opened_with_marks(self, by: float) -> Piece:
        """Return the piece with all its slashes opened by so much together, mm, marks and all."""
        return self._with_marks(self._motions(by / len(self.slashes)))

    def _with_marks(self, motions: Sequence[Motion]) -> Piece:
        spread = self._moved(motions)
        field = spread_field(self._between, self._stations, motions)
        line, low, new = self.edge.parts[0], self.stretch[0], spread.edge(self.edge.name)

        def moved(at: float) -> Point:
            return line.point_at(at) + field(at - low)[0]

        notches = tuple(
            carried_notch(notch, self.edge, new, self.stretch, moved)
            for notch in self.piece.notches
        )
        noted = replace(spread, notches=notches)
        return noted if self.middle is None else with_levels_at_ends(self.piece, noted)

    def _solved(self, by: float) -> list[Motion]:
        opened = by / len(self.slashes)
        for _ in range(_TRIES):
            motions = self._motions(opened)
            grown = self._line(motions).length - self.edge.length
            if abs(grown - by) < _NEARER:
                break
            # What opens is measured on the drawn edge, which bends where the strips part.
            opened *= by / grown
        return motions

    def _angle(self, slash: Slash, opened: float) -> float:
        if opened >= slash.height:
            raise DoesNotFit(said("opens-too-wide", height=slash.height), edge=self.edge.name)
        return 2 * math.asin(opened / (2 * slash.height))

    def _motions(self, opened: float) -> list[Motion]:
        """Return how each strip is moved: turned about every pivot up to the held one.

        Where none is held by a centre, all are turned so that the ends of the edge lie as they did.
        """
        turns = []
        for slash in self.slashes:
            onward = self.edge.parts[0].tangent_at(slash.station)
            way = dot(onward, 1j * (slash.foot - slash.pivot))
            turns.append(math.copysign(self._angle(slash, opened), way))
        motions = [Motion()] * (len(self.slashes) + 1)
        for k in range(self.held, len(self.slashes)):
            motions[k + 1] = motions[k].after(Motion.turn(self.slashes[k].pivot, turns[k]))
        for k in range(self.held - 1, -1, -1):
            motions[k] = motions[k + 1].after(Motion.turn(self.slashes[k].pivot, -turns[k]))
        if self.middle is None:
            return motions
        was, now = (
            self.edge.end - self.edge.start,
            motions[-1](self.edge.end) - motions[0](self.edge.start),
        )
        turn = Motion.turn(self.middle, turn_between(now, was))
        return [turn.after(motion) for motion in motions]

    def _moved(self, motions: Sequence[Motion]) -> Piece:
        own = self.edge.name
        moved = {
            edge.name: self._edge(edge, motions) for edge in self.piece.edges if edge.name != own
        }
        before, after = (moved[each.name] for each in self.piece.neighbours(own))
        moved[own] = meeting(self._line(motions), before.end, after.start)
        inner = tuple(self._carried(dart, motions) for dart in self.piece.inner_darts)
        spread = replace(
            self.piece, edges=tuple(moved[e.name] for e in self.piece.edges), inner_darts=inner
        )
        return at_hem(spread) if HEM in spread.edge_names else spread

    def _carried(self, dart: InnerDart, motions: Sequence[Motion]) -> InnerDart:
        middle = (dart.left + dart.right) / 2
        motion = motions[strip_of(self.slashes, self.edge, middle)]
        points = (dart.upper, dart.lower, dart.left, dart.right)
        return InnerDart(dart.name, *map(motion, points))

    def _strips_along(self) -> Iterator[tuple[str, int, list[tuple[Slash, int]], int]]:
        """Yield each part of the other edges in ring order: the slashes met on it, and its strips.

        Every slash comes with the strip that begins behind it; last is the strip at the part's end.
        """
        names = self.piece.edge_names
        first = names.index(self.edge.name) + 1
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

    def _line(self, motions: Sequence[Motion]) -> Edge:
        """Return the edge with the middle of each strip moved along with it, fair between those.

        How far it moves is a cubic spline over its length, so that it keeps the shape it had.
        """
        line, (low, high) = self.edge.parts[0], self.stretch
        drawn = spread_line(self._between, self._stations, motions)
        before = [line.between(0.0, low).moved(motions[0])] if low > SAME_POINT else []
        rest = high < line.length - SAME_POINT
        after = [line.between(high, line.length).moved(motions[-1])] if rest else []
        whole = Chain.joining([*before, drawn, *after]) if before or after else drawn
        return replace(self.edge, parts=(whole,))

    @property
    def _between(self) -> Chain:
        """Return the stretch of the edge that is spread."""
        return self.edge.parts[0].between(*self.stretch)

    @property
    def _stations(self) -> list[float]:
        """Return where the slashes stand, from the start of the stretch, mm."""
        return [slash.station - self.stretch[0] for slash in self.slashes]


def with_levels_at_ends(before: Piece, spread: Piece) -> Piece:
    """Return a spread piece whose levels that ran through the lower end of an edge do so still.

    A biceps line would else run out at the cap. What a centre or a fold holds stays.
    """
    if before.fold or CENTRE in before.edge_names:
        return spread
    return replace(spread, levels=tuple(_at_ends(level, before, spread) for level in spread.levels))


def _at_ends(level: Level, before: Piece, spread: Piece) -> Level:
    if level.along:
        return level
    for edge in before.edges:
        if abs(max(edge.start.imag, edge.end.imag) - level.y) < SAME_LENGTH:
            new = spread.edge(edge.name)
            return replace(level, y=max(new.start.imag, new.end.imag))
    return level


# --- slashed from an edge -------------------------------------------------------------------------


def strips(piece: Piece, count: int) -> Strips:
    """Return a piece slashed straight up from so many places that part its hem evenly.

    Raises DoesNotFit where a dart opens on the hem, and where a slash meets a dart, a corner or an
    edge that meets the hem.
    """
    hem = whole_edge(piece, HEM)
    return _parted(piece, hem, 0.0, hem.length, count, heading=-1j)


def strips_from(
    piece: Piece, edge: str, count: int, stretch: tuple[float, float], to: str | None = None
) -> Strips:
    """Return a piece slashed from so many places that part an edge, or a stretch of it, evenly.

    The slashes run square to the way between the ends of the edge, or `to` another edge, in as many
    shares of it. Raises NoSuchName, and DoesNotFit as `strips` does and for an edge on the fold.
    """
    line = whole_edge(piece, edge)
    if edge == piece.fold:
        raise DoesNotFit(said("on-fold"), said("name-another-edge"), edge=edge)
    slashed = _parted(piece, line, *stretch, count, to=to)
    if piece.fold or CENTRE in piece.edge_names or piece.grainline is None:
        return slashed
    middle = (piece.grainline.start + piece.grainline.end) / 2
    return replace(slashed, middle=middle)


def _parted(
    piece: Piece,
    edge: Edge,
    low: float,
    high: float,
    count: int,
    *,
    heading: Point | None = None,
    to: str | None = None,
) -> Strips:
    stations = stations_between(low, high, count)
    if to is None:
        slashes = slashes_along(piece, edge, stations, heading or square_to(piece, edge))
    else:
        slashes = slashes_to(piece, edge, stations, to, low, high)
    return Strips(piece, edge, (low, high), slashes, held_strip(piece, edge, slashes))
