"""Turn part of a piece about a point, as closing a dart and opening it elsewhere does."""

from dataclasses import dataclass, replace

from shapely.geometry import LineString

from trueup.geometry.errors import BrokenOutline
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point, turn_between
from trueup.geometry.lines.polygons import polygon, polyline
from trueup.geometry.pieces.closed_line import end_to_end
from trueup.geometry.pieces.dart import Dart, InnerDart, Mouth
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.said import said
from trueup.geometry.tolerance import FLATTEN

_HELD = "centre"
_SLACK = 2 * FLATTEN


@dataclass(frozen=True)
class Stretch:
    """A stretch of the ring without a corner or a dart in it, and the dart that opens after it."""

    edge: str
    line: Chain
    dart: Dart | None = None


@dataclass(frozen=True)
class Halves:
    """The ring of a piece cut at a dart's mouth and at a second place on the outline.

    Cutting from both to the dart's apex leaves two pieces of paper. `outward` runs, in ring order,
    from the mouth to the place, `homeward` from the place back to the mouth.
    """

    piece: Piece
    mouth: Mouth
    outward: tuple[Stretch, ...]
    homeward: tuple[Stretch, ...]

    @property
    def place(self) -> Point:
        """Return the second place."""
        return self.homeward[0].line.start

    @property
    def outward_turns(self) -> bool:
        """Return whether the outward half is the one to turn, the other being held on the table.

        Held is the half with more of the fold, else of the centre, else of the whole outline.
        """
        edges = self.piece.edge_names
        held = self.piece.fold or (_HELD if _HELD in edges else None)
        return _run(self.outward, held) < _run(self.homeward, held)

    @property
    def cut(self) -> LineString:
        """Return the straight cut from apex to place."""
        apex = self.mouth.dart.apex
        return polyline((apex, self.place))

    @property
    def cut_lies_in_cloth(self) -> bool:
        """Return whether the cut stays inside the cloth, neither leaving it nor crossing a dart."""
        return bool(self.piece.cloth.buffer(_SLACK).covers(self.cut))

    @property
    def darts_crossed(self) -> tuple[str, ...]:
        """Return the names of the other darts that the cut crosses."""
        wedges = {
            mouth.dart.name: polygon((mouth.first, mouth.tip, mouth.second))
            for edge in self.piece.edges
            for mouth in edge.mouths
            if mouth.dart != self.mouth.dart
        }
        for inner in self.piece.inner_darts:
            wedges[inner.name] = inner.diamond
        return tuple(name for name, wedge in wedges.items() if wedge.crosses(self.cut))

    def pivoted(self, share: float = 1.0) -> Piece:
        """Return the piece with the dart closed at its mouth and opened at the second place.

        With a `share` the paper is turned by so much of its angle; the two lines are joined all the
        same. Raises BrokenOutline when the cut runs through a dart that lies inside the piece.
        """
        outward, homeward, inner = self._swung(share)
        joined = replace(outward[0], line=end_to_end([homeward[-1].line, outward[0].line]))
        ring = (joined, *outward[1:], *homeward[:-1])
        return replace(self.piece, edges=joined_edges(self.piece, ring), inner_darts=inner)

    def shared(self, share: float, opened: Dart) -> Piece:
        """Return the piece with a share of the dart's angle opened at the second place.

        There it is a dart of its own, from the same apex. Raises BrokenOutline as `pivoted` does.
        """
        outward, homeward, inner = self._swung(share)
        ring = (*outward[:-1], replace(outward[-1], dart=opened), *homeward)
        return replace(self.piece, edges=joined_edges(self.piece, ring), inner_darts=inner)

    def _swung(
        self, share: float
    ) -> tuple[tuple[Stretch, ...], tuple[Stretch, ...], tuple[InnerDart, ...]]:
        """Return both halves and the darts inside, one half turned by a share of the angle."""
        apex, outward, homeward = self.mouth.dart.apex, self.outward, self.homeward
        first, second = self.mouth.first - apex, self.mouth.second - apex
        inner = self.piece.inner_darts
        if self.outward_turns:
            motion = Motion.turn(apex, share * turn_between(second, first))
            inner = tuple(self._carried(d, outward, motion) for d in inner)
            outward = tuple(_turned(s, apex, motion) for s in outward)
        else:
            motion = Motion.turn(apex, share * turn_between(first, second))
            inner = tuple(self._carried(d, homeward, motion) for d in inner)
            homeward = tuple(_turned(s, apex, motion) for s in homeward)
        return outward, homeward, inner

    def _carried(self, inner: InnerDart, half: tuple[Stretch, ...], motion: Motion) -> InnerDart:
        """Return a dart inside the piece after a half was moved: with it, where it lies on it.

        Raises BrokenOutline for one that lies on both.
        """
        points: list[Point] = [self.mouth.dart.apex]
        for stretch, following in zip(half, (*half[1:], None), strict=True):
            points += stretch.line.flattened()
            if following and stretch.dart:
                points.append(Mouth(stretch.dart, stretch.line.end, following.line.start).tip)
        paper = polygon(tuple(points)).buffer(0)
        diamond = inner.diamond
        if paper.covers(diamond):
            return InnerDart(
                inner.name,
                *(motion(p) for p in (inner.upper, inner.lower, inner.left, inner.right)),
            )
        if paper.intersects(diamond) and not paper.touches(diamond):
            raise BrokenOutline(said("cut-through-dart", dart=inner.name))
        return inner


def halves(piece: Piece, dart: str, edge: str, part: int, length: float) -> Halves:
    """Return the ring cut at a dart's mouth and `length` mm along a part of an edge.

    Raises NoSuchName for dart or edge, BrokenOutline when the place is not inside that part.
    """
    mouth, ring = _from_mouth(piece, dart)
    wanted = piece.edge(edge).parts[part]
    cut = next(k for k, s in enumerate(ring) if s.edge == edge and s.line is wanted)
    before, after = ring[cut].line.split_at(length)
    return Halves(
        piece,
        mouth,
        (*ring[:cut], Stretch(edge, before, replace(mouth.dart, turned=True))),
        (Stretch(edge, after, ring[cut].dart), *ring[cut + 1 :]),
    )


def halves_between(piece: Piece, dart: str, other: str) -> Halves:
    """Return the ring cut at a dart's mouth and at that of another; raises NoSuchName."""
    piece.edge_of_dart(other)
    mouth, ring = _from_mouth(piece, dart)
    cut = next(k for k, s in enumerate(ring, 1) if s.dart and s.dart.name == other)
    return Halves(piece, mouth, tuple(ring[:cut]), tuple(ring[cut:]))


def _from_mouth(piece: Piece, dart: str) -> tuple[Mouth, list[Stretch]]:
    """Return the mouth of a dart, and the stretches of the ring from there on."""
    mouth = piece.mouth(dart)
    ring = [
        Stretch(e.name, line, following)
        for e in piece.edges
        for line, following in zip(e.parts, (*e.darts, None), strict=True)
    ]
    opened = next(k for k, s in enumerate(ring) if s.dart and s.dart.name == dart)
    return mouth, ring[opened + 1 :] + ring[: opened + 1]


def _run(half: tuple[Stretch, ...], edge: str | None) -> float:
    return sum(s.line.length for s in half if edge in (s.edge, None))


def _turned(stretch: Stretch, apex: Point, motion: Motion) -> Stretch:
    dart = stretch.dart
    # What is turned about itself stays, to the last bit: other darts may open from this apex.
    if dart and dart.apex != apex:
        dart = replace(dart, apex=motion(dart.apex))
    return Stretch(stretch.edge, stretch.line.moved(motion), dart)


def joined_edges(piece: Piece, ring: tuple[Stretch, ...]) -> tuple[Edge, ...]:
    """Return the edges of a ring in the piece's order; those that did not change are the same."""
    corner = next(k for k, s in enumerate(ring) if ring[k - 1].edge != s.edge)
    ring = ring[corner:] + ring[:corner]
    edges = []
    for edge in piece.edges:
        mine = [s for s in ring if s.edge == edge.name]
        parts = tuple(s.line for s in mine)
        darts = tuple(s.dart for s in mine if s.dart)
        same = parts == edge.parts and darts == edge.darts
        edges.append(edge if same else replace(edge, parts=parts, darts=darts))
    return tuple(edges)
