"""Slash a piece straight across and spread it, or fold a strip out; all below goes along."""

from dataclasses import dataclass, replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point, dot, unit
from trueup.geometry.pieces.closed_line import end_to_end, smoothed_at
from trueup.geometry.pieces.dart import Dart, InnerDart, Mouth
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Notch, Piece
from trueup.geometry.redrawing.hems.hem import at_hem
from trueup.geometry.said import said
from trueup.geometry.tolerance import LEGS_EQUAL, SAME_POINT

_HEM = "hem"
_EASING = 40.0
"""A line that is crossed is drawn fair over so much to either side, mm."""


def spread_at(piece: Piece, y: float, by: float) -> Piece:
    """Return a piece slashed at a level y mm down the page, what lies below moved down so far, mm.

    A negative amount folds the strip below the level out. Edges that cross it are drawn fair,
    straight ones straight. A dart that it crosses lengthwise becomes so much longer, its mouth and
    its intake as they were. Raises DoesNotFit where the slash runs out of the piece, crosses an
    edge twice or a dart athwart.
    """
    slash = _Slash(piece, y, by)
    edges = tuple(slash.edge(edge) for edge in piece.edges)
    if all(new is old for new, old in zip(edges, piece.edges, strict=True)) or not slash.crossed:
        raise DoesNotFit(said("slash-misses", piece=piece.name), said("another-level"))
    grain = piece.grainline
    changed = replace(
        piece,
        edges=edges,
        inner_darts=tuple(map(slash.inner, piece.inner_darts)),
        levels=tuple(
            level if level.along else replace(level, y=slash(complex(0, level.y)).imag)
            for level in piece.levels
        ),
        grainline=Grainline(slash(grain.start), slash(grain.end)) if grain else None,
        notches=tuple(
            slash.notch(notch, next(e for e in edges if e.name == notch.edge))
            for notch in piece.notches
        ),
    )
    return at_hem(changed) if _HEM in piece.edge_names else changed


@dataclass(frozen=True)
class _Slash:
    """A slash across a piece at a level, and how far what lies below it is shifted down, mm."""

    piece: Piece
    y: float
    by: float

    @property
    def low(self) -> float:
        """Return how far down the paper begins that is shifted."""
        return self.y + max(-self.by, 0.0)

    @property
    def shift(self) -> Motion:
        """Return how what lies below moves."""
        return Motion(shift=complex(0.0, self.by))

    @property
    def crossed(self) -> bool:
        """Return whether it runs from edge to edge of the piece."""
        ends = [p.imag for edge in self.piece.edges for p in (edge.start, edge.end)]
        return min(ends) < self.y and max(ends) > self.low

    def __call__(self, point: Point) -> Point:
        """Return where a point of the paper comes to lie; in a folded strip, on the fold."""
        if point.imag <= self.y + SAME_POINT:
            return point
        return self.shift(point) if point.imag >= self.low else complex(point.real, self.y)

    def is_below(self, point: Point) -> bool:
        """Return whether a point is shifted."""
        return point.imag >= self.low and point.imag > self.y + SAME_POINT

    def edge(self, edge: Edge) -> Edge:
        """Return an edge after the slash; the same where it lies above it."""
        parts = tuple(self._part(edge, part) for part in edge.parts)
        darts = tuple(self._dart(edge, mouth) for mouth in edge.mouths)
        if parts == edge.parts and darts == edge.darts:
            return edge
        return replace(edge, parts=parts, darts=darts)

    def _part(self, edge: Edge, part: Chain) -> Chain:
        met = part.crossings(complex(0.0, self.y), 1)
        met_low = part.crossings(complex(0.0, self.low), 1) if self.by < 0 else met
        starts, ends = self.is_below(part.start), self.is_below(part.end)
        inside = [p for p in (part.start, part.end) if self.y + SAME_POINT < p.imag < self.low]
        if inside or max(len(met), len(met_low)) > 1 or (starts == ends and (met or met_low)):
            if starts == ends and not inside and _only_touches(part, self):
                return part.moved(self.shift) if starts else part
            raise DoesNotFit(
                said("slash-along", edge=edge.name), said("another-level"), edge=edge.name
            )
        if starts == ends:
            return part.moved(self.shift) if starts else part
        if starts:
            return self._spread(
                part.reversed(), part.length - met[0], part.length - met_low[0]
            ).reversed()
        return self._spread(part, met[0], met_low[0])

    def _spread(self, part: Chain, at: float, low: float) -> Chain:
        """Return a line that runs down, spread at one length along it, or folded up to another."""
        end = self.shift(part.end)
        if _is_straight(part):
            return Chain.line(part.start, end)
        above, below = part.between(0.0, at), part.between(low, part.length).moved(self.shift)
        # A spread slash is bridged straight down; a fold leaves a step where the line lies aslant.
        laid = end_to_end([above, below])
        apart = laid.length - above.length - below.length
        return smoothed_at(laid, at + apart / 2, _EASING + apart / 2).ending_at(end)

    def _dart(self, edge: Edge, mouth: Mouth) -> Dart:
        """Return a dart that still has equal legs: its point moved where it lies below."""
        first, second, apex = (self(p) for p in (mouth.first, mouth.second, mouth.dart.apex))
        if self.is_below(mouth.first) != self.is_below(mouth.second):
            raise self._athwart(edge, mouth.dart)
        if abs(abs(first - apex) - abs(second - apex)) > LEGS_EQUAL:
            raise self._athwart(edge, mouth.dart)
        if abs(second - first) < SAME_POINT:  # a cut takes out nothing
            return replace(mouth.dart, apex=apex)
        moved = apex - mouth.dart.apex == first - mouth.first
        if mouth.intake < SAME_POINT:  # a cut takes out nothing
            return replace(mouth.dart, apex=apex)
        across = unit(second - first)
        middle = (first + second) / 2
        level = apex if moved else apex - across * dot(apex - middle, across)
        return replace(mouth.dart, apex=level)

    def _athwart(self, edge: Edge, dart: Dart) -> DoesNotFit:
        reason = said("slash-athwart", dart=dart.name)
        return DoesNotFit(reason, said("another-level"), edge=edge.name, dart=dart.name)

    def inner(self, dart: InnerDart) -> InnerDart:
        """Return a dart inside the piece, each of its points where its paper went."""
        points = (dart.upper, dart.lower, dart.left, dart.right)
        return InnerDart(dart.name, *map(self, points))

    def notch(self, notch: Notch, drawn: Edge) -> Notch:
        """Return a notch as far from the corner on its own side of the slash as it was."""
        old = self.piece.edge(notch.edge)
        if drawn is old:
            return notch
        along = notch.at.along(old)
        lies, starts = (self.is_below(p) for p in (old.point_at(along), old.start))
        at = along if lies == starts else drawn.length - (old.length - along)
        at = min(max(at, 0.0), drawn.length)
        return replace(notch, at=notch.at.moved_to(drawn, at))


def _only_touches(part: Chain, slash: _Slash) -> bool:
    """Return whether a line that begins and ends on one side of a slash stays there."""
    ys = [point.imag for point in part.flattened()]
    return max(ys) <= slash.y + SAME_POINT or min(ys) >= slash.low - SAME_POINT


def _is_straight(part: Chain) -> bool:
    along = unit(part.end - part.start)
    return all(
        abs(((point - part.start) * along.conjugate()).imag) < SAME_POINT
        for cubic in part.cubics
        for point in cubic
    )
