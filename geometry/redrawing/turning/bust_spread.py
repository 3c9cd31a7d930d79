"""Spread a front over the bust: slashed from an edge above through the bust point to the hem.

Three papers move. What lies between the slash and the bust dart turns about the place on the edge
above; what lies beyond the dart is shifted, so that the slash below the bust point stays parallel;
and below the bust the paper at the centre is cut straight across and lowered, so that the hem meets
again. The bust dart opens by as much as the first paper turned.
"""

import math
from dataclasses import dataclass, replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.points import STILL, Motion, Point, turn_between
from trueup.geometry.lines.polygons import polyline
from trueup.geometry.pieces.dart import InnerDart, Mouth
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Notch, Piece
from trueup.geometry.redrawing.darts import SMALLEST_INTAKE, room_for_tip
from trueup.geometry.redrawing.hems.hem import at_hem
from trueup.geometry.redrawing.move_corner import start_cut
from trueup.geometry.redrawing.turning.dart_intake import taken_in
from trueup.geometry.redrawing.turning.moving import joined_at, moved_stretch, trued_at
from trueup.geometry.redrawing.turning.ring import Stretch, joined_edges
from trueup.geometry.redrawing.turning.wedge import placed
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT, SHORTEST_LEFT

_HEM = "hem"
_FAR = 1e4


def bust_spread(
    piece: Piece, dart: str, edge: str, along: float, by: float, into: str | None = None
) -> Piece:
    """Return a front wider by so much, mm, at the bust point that a dart aims at, and down from it.

    The slash runs to a sewn length along `edge`, above the bust point. The bust dart takes in as
    much more as the turned paper opens. Every edge keeps its sewn length but for `edge`, which is
    drawn fair, for the hem, which gains the amount unless the dart `into` takes it, and for the one
    at the centre. A negative amount laps the papers. Raises DoesNotFit where the slash cannot run
    so, or cannot open so far.
    """
    slashed = _Slashed.of(piece, dart, edge, along)
    spread = slashed.spread(by)
    fair = spread.with_edges(trued_at(piece.edge(edge), spread.edge(edge), along))
    opened = fair.mouth(dart)
    if opened.intake < SMALLEST_INTAKE:
        raise DoesNotFit(said("nothing-left-of-dart", dart=dart), dart=dart)
    if opened.dart.setback > room_for_tip(opened):
        raise DoesNotFit(said("mouth-at-tip"), said("tip-back-first"), dart=dart)
    taken = taken_in(fair, into, by) if into else fair
    return at_hem(taken)


@dataclass(frozen=True)
class _Slashed:
    """A piece cut along the slash, its ring from the hem by way of the centre to the hem again."""

    piece: Piece
    mouth: Mouth
    ring: tuple[Stretch, ...]
    at: int
    """How many stretches lie before the place to which the slash runs."""

    @classmethod
    def of(cls, piece: Piece, dart: str, edge: str, along: float) -> "_Slashed":
        if edge == _HEM or edge in (each.name for each in piece.neighbours(_HEM)):
            raise DoesNotFit(said("slash-not-above"), said("another-edge"), edge=edge)
        _require_free(piece, dart)
        ring = [
            Stretch(e.name, line, following)
            for e in piece.edges
            for line, following in zip(e.parts, (*e.darts, None), strict=True)
        ]
        first = next(k for k, s in enumerate(ring) if ring[k - 1].edge == _HEM != s.edge)
        ring = ring[first:] + ring[:first]
        part, length = placed(piece.edge(edge), along)
        at = next(k for k, s in enumerate(ring) if s.line is piece.edge(edge).parts[part])
        before, after = ring[at].line.split_at(length)
        ring[at : at + 1] = [Stretch(edge, before), Stretch(edge, after, ring[at].dart)]
        return cls(piece, piece.mouth(dart), tuple(ring), at + 1)

    @property
    def _outward(self) -> float:
        hem = self.piece.edge(_HEM)
        return math.copysign(1.0, (hem.start - hem.end).real)

    def spread(self, by: float) -> Piece:
        """Return the piece with the slash opened, and the hem drawn across it."""
        bust = self.mouth.dart.apex
        opens = next(k for k, s in enumerate(self.ring) if s.dart == self.mouth.dart)
        held = opens < self.at
        closing = Motion.bringing(self.mouth.second, self.mouth.first, bust)
        pivot = self.ring[self.at].line.start
        pivot = closing(pivot) if held else pivot
        was = bust - pivot
        now = _swung(was, self._outward * by)
        if now is None:
            if by < 0:
                raise DoesNotFit(said("nothing-left-of-dart", dart=self.mouth.dart.name))
            raise DoesNotFit(said("opens-too-wide", height=abs(was)))
        side = Motion(shift=now - was)
        apex = side(bust)
        turn = turn_between(was, now)
        # Where the dart lies between slash and centre, all beyond the slash is one paper, and what
        # lies between the two turns back against the centre by the whole angle of the dart.
        between = (
            Motion.turn(apex, -self.mouth.angle - turn).after(closing)
            if held
            else Motion.turn(pivot, turn)
        )
        motions = [
            between if (opens < k < self.at if held else self.at <= k <= opens) else side
            for k in range(len(self.ring))
        ]
        still = min(opens + 1, self.at)
        motions[:still] = [Motion()] * still
        ring = tuple(
            moved_stretch(stretch, motion, apex if k == opens else None)
            for k, (stretch, motion) in enumerate(zip(self.ring, motions, strict=True))
        )
        return self._lowered(ring, side)

    def _lowered(self, ring: tuple[Stretch, ...], side: Motion) -> Piece:
        """Return the piece of a ring whose hem at the centre follows that at the side."""
        drop = side.shift.imag
        centre = self.piece.edge(ring[0].edge)
        longer = start_cut(centre, -drop)
        under = Motion(shift=longer.start - centre.start)
        ring = joined_at((replace(ring[0], line=longer.parts[0]), *ring[1:]), self.at)
        hem = self._hem(side, under)
        edges = tuple(hem if e.name == _HEM else e for e in joined_edges(self.piece, ring))
        level_with = self.mouth.dart.apex.imag - SAME_POINT
        return replace(
            self.piece,
            edges=edges,
            inner_darts=tuple(self._carried(each, side, under) for each in self.piece.inner_darts),
            levels=tuple(
                replace(level, y=level.y + drop) if level.y > level_with else level
                for level in self.piece.levels
            ),
            grainline=self._grain(side),
            notches=tuple(self._kept(notch, hem, side, under) for notch in self.piece.notches),
        )

    def _hem(self, side: Motion, under: Motion) -> Edge:
        """Return the hem drawn across the slash; a dart that opens there moves by half of it."""
        hem = self.piece.edge(_HEM)
        motions = [self._motion((m.first, m.second), side, under) for m in hem.mouths]
        parts = tuple(
            part.moved(one)
            if one == other
            else part.fitted_between(one(part.start), other(part.end))
            for part, one, other in zip(hem.parts, (side, *motions), (*motions, under), strict=True)
        )
        darts = tuple(
            replace(dart, apex=motion(dart.apex))
            for dart, motion in zip(hem.darts, motions, strict=True)
        )
        return replace(hem, parts=parts, darts=darts)

    def _motion(self, points: tuple[Point, ...], side: Motion, under: Motion) -> Motion:
        """Return how what lies below the bust moves: with the one paper, the other, or between."""
        beside = [(p - self.mouth.dart.apex).real * self._outward > 0 for p in points]
        if all(beside):
            return side
        return Motion(shift=(side.shift + under.shift) / 2) if any(beside) else under

    def _carried(self, inner: InnerDart, side: Motion, under: Motion) -> InnerDart:
        points = (inner.upper, inner.lower, inner.left, inner.right)
        motion = self._motion(points, side, under)
        return InnerDart(inner.name, *map(motion, points))

    def _grain(self, side: Motion) -> Grainline | None:
        grain = self.piece.grainline
        if grain is None or self._motion((grain.start, grain.end), side, STILL) != side:
            return grain
        return Grainline(side(grain.start), side(grain.end))

    def _kept(self, notch: Notch, hem: Edge, side: Motion, under: Motion) -> Notch:
        """Return a notch of the hem where it was on its own paper."""
        if notch.edge != _HEM:
            return notch
        old = self.piece.edge(_HEM)
        along = notch.at.along(old)
        beside = self._motion((old.point_at(along),), side, under) == side
        at = along if beside else hem.length - (old.length - along)
        return replace(notch, at=notch.at.moved_to(hem, at))


def _require_free(piece: Piece, dart: str) -> None:
    """Raise DoesNotFit where the slash, straight down from the bust point, would meet a dart."""
    bust = piece.mouth(dart).dart.apex
    slash = polyline((bust, complex(bust.real, bust.imag + _FAR)))
    for edge in piece.edges:
        for mouth in edge.mouths:
            legs = polyline((mouth.first, mouth.tip, mouth.second))
            if edge.name != _HEM and mouth.dart.name != dart and legs.intersects(slash):
                reason = said("crosses-dart", dart=f"{piece.name}.{mouth.dart.name}")
                raise DoesNotFit(reason, said("name-another-dart"), dart=mouth.dart.name)
    for inner in piece.inner_darts:
        if inner.upper.imag < bust.imag < inner.lower.imag and inner.diamond.intersects(slash):
            reason = said("cut-through-dart", dart=inner.name)
            raise DoesNotFit(reason, said("place-or-shorten"), dart=inner.name)
    if not any(part.meetings(bust, 1j) for part in piece.edge(_HEM).parts) and not any(
        (m.first - bust).real * (m.second - bust).real < 0 for m in piece.edge(_HEM).mouths
    ):
        raise DoesNotFit(said("slash-off-hem", dart=dart), said("name-another-dart"), dart=dart)


def _swung(arm: Point, out: float) -> Point | None:
    """Return an arm that hangs from its pivot swung until its end is so far aside, mm.

    None where it does not reach so far.
    """
    if arm.imag < SHORTEST_LEFT:
        raise DoesNotFit(said("slash-not-above"), said("another-place"))
    across = arm.real + out
    if abs(across) >= abs(arm):
        return None
    return complex(across, math.sqrt(abs(arm) ** 2 - across**2))
