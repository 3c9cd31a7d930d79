"""The extension of a vent, as it is cut: beside the edge that opens, from its top down to the hem.

Its lower end is the hem turned over along the fold, so that it lies on the hem when it is turned
in. Lengths are mm.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point, dot, unit
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import InnerMark, OnEdge
from trueup.geometry.pieces.piece import Notch, Piece, Vent
from trueup.geometry.pieces.position import Position
from trueup.geometry.pleats.folding import reversed_edge
from trueup.geometry.said import said
from trueup.geometry.tolerance import CLOTH_LEFT, SAME_POINT


@dataclass(frozen=True)
class VentCut:
    """A vent on its piece, its edge travelled towards the hem: where it opens, and its corners.

    `stays` is the edge down to the top of the vent; the hem runs on by `hem_gains`.
    """

    piece: Piece
    vent: Vent
    edge: Edge
    stays: Edge
    below: Edge
    top: Point
    outer: Point
    lowest: Point
    hem_gains: Chain

    @property
    def fold(self) -> tuple[Point, Point]:
        """Return the line along which the extension is turned in."""
        return self.top, self.edge.end

    def cut(self) -> Piece:
        """Return the piece with the extension cut on."""
        piece, vent = self.piece, self.vent
        top, corner = f"{vent.name}-top", f"{vent.name}-hem"
        slant = Edge(top, vent.name, f"{vent.name}-outer", (Chain.line(self.top, self.outer),))
        free = Edge(vent.name, slant.ends_at, corner, (Chain.line(self.outer, self.lowest),))
        runs = [self.hem_gains, self.below.parts[0]]
        lower = replace(
            self.below,
            starts_at=corner,
            parts=(Chain.joining(runs), *self.below.parts[1:]),
        )
        down = [self.stays, slant, free]
        is_onward = piece.edge(vent.edge).ends_at == vent.hem
        if not is_onward:
            down, lower = [reversed_edge(each) for each in reversed(down)], reversed_edge(lower)
        edges = [
            each
            for edge in piece.edges
            for each in (
                down if edge.name == vent.edge else [lower if edge.name == lower.name else edge]
            )
        ]
        kept = replace(
            piece,
            edges=tuple(edges),
            notches=tuple(self._notches()),
            marks=tuple(self._marks()),
            corners=tuple(each for each in piece.corners if each.corner != vent.hem),
            vents=(),
        )
        return allowed(kept, {top: piece.allowance(vent.edge), vent.name: vent.allowance})

    def _notches(self) -> Iterator[Notch]:
        for notch in self.piece.notches:
            at = self._moved(notch.edge, notch.at)
            if at is not None:
                yield replace(notch, at=at)

    def _marks(self) -> Iterator[InnerMark]:
        for mark in self.piece.marks:
            if not isinstance(mark.place, OnEdge):
                yield mark
                continue
            at = self._moved(mark.place.edge, mark.place.at)
            if at is not None:
                yield replace(mark, place=OnEdge(mark.place.edge, at))

    def _moved(self, name: str, at: Position) -> Position | None:
        """Return a place on an edge as it is beside the vent; None where the edge is gone there."""
        edge = self.piece.edge(name)
        along = at.along(edge)
        if name == self.vent.edge:
            down = along if edge.ends_at == self.vent.hem else edge.length - along
            if down > self.stays.length + SAME_POINT:
                return None
            return Position(self.stays.starts_at, distance=min(down, self.stays.length))
        if name == self.below.name and at.corner == self.vent.hem:
            inward = along if edge.starts_at == self.vent.hem else edge.length - along
            corner = f"{self.vent.name}-hem"
            return Position(corner, distance=inward + self.hem_gains.length)
        if name == self.below.name:
            far = along if edge.starts_at == at.corner else edge.length - along
            return Position(at.corner, distance=far)
        return at


def vent_cut(piece: Piece, vent: Vent) -> VentCut:
    """Return the extension of a vent on a piece.

    Raises NoSuchName or BadPosition where its place is gone, DoesNotFit where a dart opens below
    its top, and where edge or hem are too short for it.
    """
    own = piece.edge(vent.edge)
    onward = own.ends_at == vent.hem
    edge = own if onward else reversed_edge(own)
    before, after = piece.neighbours(vent.edge)
    below = after if onward else reversed_edge(before)
    along = vent.at.along(own)
    station = along if onward else own.length - along
    last = edge.length - edge.parts[-1].length
    if edge.darts and station < last + CLOTH_LEFT:
        dart = edge.darts[-1].name
        reason = said("vent-meets-dart", vent=vent.name, dart=dart)
        raise DoesNotFit(reason, said("place-below-dart"), edge=vent.edge, dart=dart)
    local = station - last
    line = edge.parts[-1]
    if not CLOTH_LEFT < local < line.length - max(CLOTH_LEFT, vent.slope):
        raise DoesNotFit(said("vent-near-end", vent=vent.name), said("another-place"))
    stays, lower = line.split_at(local)
    down = lower.end_tangent
    out = -piece.inward * down * (1 if onward else -1)
    top = lower.start + 0j
    outer = top + out * vent.width + down * vent.slope
    gains = _turned_over(below.parts[0], vent, edge.end, down, out)
    return VentCut(
        piece,
        vent,
        edge,
        replace(edge, ends_at=vent.name, parts=(*edge.parts[:-1], stays)),
        below,
        top,
        outer,
        gains.start,
        gains,
    )


def _turned_over(hem: Chain, vent: Vent, corner: Point, down: complex, out: complex) -> Chain:
    """Return the hem beside a corner turned over the fold, from its far end to the corner."""
    reached = [
        at
        for at in hem.crossings(corner - out * vent.width, down)
        if dot(hem.point_at(at) - corner, -out) > 0
    ]
    if not reached:
        reason = said("hem-too-narrow", vent=vent.name, width=vent.width)
        raise DoesNotFit(reason, said("narrower"), edge=vent.edge)
    square = unit(down) ** 2
    part = hem.between(0.0, min(reached))
    over = part.mapped(lambda point: corner + square * (point - corner).conjugate())
    return over.reversed().ending_at(corner)
