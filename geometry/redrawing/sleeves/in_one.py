"""Draw half a sleeve on to a front or a back, in one with it: overarm, wrist and underarm.

The overarm goes on as the shoulder and bends down to its slope; the wrist lies square to it, and
the underarm runs from there to the side seam. Lengths in mm, slopes in degrees.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from trueup.geometry.kept import kept
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_join
from trueup.geometry.lines.points import Point, degrees_between, unit
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Level, Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.between_tangents import tightest
from trueup.geometry.redrawing.move_corner import start_cut
from trueup.geometry.tolerance import SAME_POINT, SHORTEST_LEFT

SHOULDER, ARMHOLE, SIDE, BUST = "shoulder", "armhole", "side", "bust"
ELBOW = "elbow"
OVERARM, WRIST, UNDERARM = "overarm", "wrist", "underarm"
AT_OVERARM, AT_UNDERARM = "wrist-over", "wrist-under"
_OVER_THE_BONE = 60.0
"""The overarm bends over so much to either side of where shoulder and sleeve would meet."""


@dataclass(frozen=True)
class InOne:
    """Half a sleeve in one with a piece: how long it is over the arm, and how wide at the wrist.

    It slopes so far below the shoulder; its underarm comes to the side seam `low` below the old
    underarm point, in a curve that sets out `rounded` before it and ends as far below. Its `elbow`
    lies so far up from the wrist, where that is known.
    """

    piece: Piece
    long: float
    wide: float
    slope: float
    low: float
    rounded: float
    elbow: float | None = None

    @property
    def _ahead(self) -> complex:
        return self.piece.edge(SHOULDER).parts[-1].end_tangent

    @property
    def _along(self) -> complex:
        """Return the direction in which the sleeve runs down."""
        radians = math.radians(self.slope)
        turned = [self._ahead * complex(math.cos(radians), s * math.sin(radians)) for s in (1, -1)]
        return max(turned, key=lambda way: way.imag)

    @kept
    def overarm(self) -> Chain:
        """Return the line over the arm, from the shoulder point to the wrist."""
        start = self.piece.edge(SHOULDER).end
        if self.slope < 1e-6:
            return Chain.line(start, start + self._ahead * self.long)
        bend = start + self._ahead * _OVER_THE_BONE
        end = bend + self._along * _OVER_THE_BONE
        over = smooth_join(start, self._ahead, end, self._along)
        return Chain.joining([over, Chain.line(end, end + self._along * (self.long - over.length))])

    @property
    def _meets(self) -> Point:
        """Return where the underarm would meet the side seam if it were not rounded."""
        return self.piece.edge(SIDE).point_at(self.low)

    @property
    def _wrist_end(self) -> Point:
        across = max((self._along * 1j, self._along * -1j), key=lambda way: way.imag)
        return self.overarm.end + across * self.wide

    @property
    def wedge(self) -> float:
        """Return the angle that is open between sleeve and side; negative where they overlap."""
        side = self.piece.edge(SIDE).place_at(self.low)[1]
        way = self._wrist_end - self._meets
        angle = degrees_between(way, side)
        outwards = self.piece.edge(SHOULDER).end.real - self.piece.edge(SHOULDER).start.real
        turn = (way * side.conjugate()).imag
        return angle if turn * outwards < 0 else -angle

    @property
    def room(self) -> float:
        """Return how long the underarm runs straight before it is rounded."""
        return abs(self._wrist_end - self._meets) - self.rounded

    @property
    def radius(self) -> float:
        """Return how tightly the underarm is rounded, mm; without end where it is not."""
        if self.rounded < SAME_POINT:
            return math.inf
        return tightest(self.underarm.cubics[-1])

    @kept
    def underarm(self) -> Chain:
        """Return the line under the arm, from the wrist to the side seam."""
        start, meets = self._wrist_end, self._meets
        if self.rounded < SAME_POINT:
            return Chain.line(start, meets)
        way = unit(meets - start)
        leaves = meets - way * self.rounded
        end, down = self.piece.edge(SIDE).place_at(self.low + self.rounded)
        return Chain.joining([Chain.line(start, leaves), smooth_join(leaves, way, end, down)])

    def drawn(self) -> Piece:
        """Return the piece with its half of the sleeve; raises DoesNotFit."""
        piece, gone = self.piece, self.low + self.rounded
        side = start_cut(piece.edge(SIDE), gone)
        over, under = self.overarm, self.underarm.ending_at(side.start)
        way = unit(under.cubics[0].end - under.start)
        squares = (way * 1j, way * -1j)
        across = unit(self._wrist_end - over.end)
        square = max(squares, key=lambda each: (each * across.conjugate()).real)
        wrist = smooth_join(over.end, across, under.start, square)
        armhole = piece.edge(ARMHOLE)
        lines = (
            Edge(OVERARM, armhole.starts_at, AT_OVERARM, (over,)),
            Edge(WRIST, AT_OVERARM, AT_UNDERARM, (wrist,)),
            Edge(UNDERARM, AT_UNDERARM, armhole.ends_at, (under,)),
        )
        edges: list[Edge] = []
        for edge in piece.edges:
            edges += lines if edge.name == ARMHOLE else [side if edge.name == SIDE else edge]
        return replace(
            piece,
            edges=tuple(edges),
            notches=tuple(self._notches(gone)),
            levels=tuple(self._levels(side.start)),
            allowances=tuple(each for each in piece.allowances if each[0] != ARMHOLE),
            corners=tuple(each for each in piece.corners if each.edge != ARMHOLE),
        )

    def _notches(self, gone: float) -> Iterator[Notch]:
        """Yield the notches that are left, those of the side where they lay, and the elbow's."""
        side = self.piece.edge(SIDE)
        for notch in self.piece.notches:
            if notch.edge == SIDE:
                along = notch.at.along(side)
                if along > gone:
                    at = Position(side.ends_at, distance=side.length - along)
                    yield replace(notch, at=at)
            elif notch.edge != ARMHOLE:
                yield notch
        for name, corner, line in (
            (OVERARM, AT_OVERARM, self.overarm),
            (UNDERARM, AT_UNDERARM, self.underarm),
        ):
            if self.elbow is not None and SHORTEST_LEFT < self.elbow < line.length - SHORTEST_LEFT:
                yield Notch(ELBOW, name, Position(corner, distance=self.elbow))

    def _levels(self, underarm: Point) -> Iterator[Level]:
        """Yield the levels below the underarm, and the bust, which is measured under the arm."""
        for level in self.piece.levels:
            if level.along or level.name == BUST or level.y > underarm.imag:
                yield level
