"""One panel of a trouser leg, front or back: its lines, drawn about its crease. Lengths in mm.

x runs from the crease towards the inseam, y down from the waist.
"""

import cmath
from dataclasses import dataclass, replace
from functools import cached_property

from trueup.geometry.lines.bisection import root_between
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.interpolate import smooth_join, smooth_line
from trueup.geometry.lines.points import Point, cross, unit
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Level, Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.tolerance import SAME_LENGTH

FRONT, BACK = "trouser-front", "trouser-back"

_MOST_RAISED, _MOST_DROPPED = 80.0, 80.0
_CURVE_UP, _HIGHEST_CURVE = 4 / 3, 0.75
_LEAST_SHARE, _MOST_SHARE = 0.38, 0.98


@dataclass(frozen=True)
class PanelDart:
    """A dart of the waist: its name, its share of the waist from the centre, its width and length.

    Without a share it lies on the crease.
    """

    name: str
    share: float | None
    width: float
    length: float


@dataclass(frozen=True)
class Panel:
    """A front or a back: `levels` are y of hip, crotch, knee and hem.

    The centre runs from `centre_waist` through `centre_hip`; `hip`, `waist`, `knee` and `hem` are
    its widths, the waist as sewn, `guide` how far the crotch curve stays off its corner; the side
    begins `raised` above the waist line.
    """

    name: str
    levels: tuple[float, float, float, float]
    centre_waist: Point
    centre_hip: Point
    fork: Point
    hip: float
    waist: float
    knee: float
    hem: float
    guide: float
    darts: tuple[PanelDart, ...]
    raised: float = 0.0

    def matching(self, other: "Panel") -> "Panel":
        """Return the panel with its inseam and its side as long as those of another."""
        inseam, side = other.inseam.length, other.side.length

        def dropped(by: float) -> "Panel":
            return replace(self, fork=self.fork + by * 1j)

        by = root_between(
            lambda by: dropped(by).inseam.length - inseam,
            -_MOST_DROPPED,
            _MOST_DROPPED,
            SAME_LENGTH,
        )
        panel = dropped(by or 0.0)
        up = root_between(
            lambda up: replace(panel, raised=up).side.length - side,
            -_MOST_RAISED,
            _MOST_RAISED,
            SAME_LENGTH,
        )
        return replace(panel, raised=up or 0.0)

    # --- leg --------------------------------------------------------------------------------------

    @cached_property
    def inseam(self) -> Chain:
        """Return the inseam from hem to fork: straight to the knee, and bent from there."""
        _, _, knee, hem = self.levels
        low, middle = complex(self.hem / 2, hem), complex(self.knee / 2, knee)
        up, chord = unit(middle - low), unit(self.fork - middle)
        arriving = chord * cmath.sqrt(chord / up)
        return Chain.joining(
            [Chain.line(low, middle), smooth_join(middle, up, self.fork, arriving)]
        )

    @cached_property
    def side(self) -> Chain:
        """Return the side from waist to hem: over the hip, where it runs straight down."""
        return self._side(self._reach)

    def _side(self, reach: float) -> Chain:
        hip, _, knee, hem = self.levels
        top = complex(-reach, -self.raised)
        widest = complex(self.centre_hip.real - self.hip, hip)
        middle, low = complex(-self.knee / 2, knee), complex(-self.hem / 2, hem)
        chord, down = unit(widest - top), unit(low - middle)
        return Chain.joining(
            [
                smooth_join(top, chord * chord / 1j, widest, 1j),
                smooth_join(widest, 1j, middle, down),
                Chain.line(middle, low),
            ]
        )

    # --- waist ------------------------------------------------------------------------------------

    @cached_property
    def _reach(self) -> float:
        """Return how far from the crease the side begins, so that the sewn waist is as wanted."""
        open_waist = self.waist + sum(dart.width for dart in self.darts)
        usual = open_waist - self.centre_waist.real

        def longer(reach: float) -> float:
            return self._waist(self._side(reach)).length - self.waist

        found = root_between(longer, usual - 30.0, usual + 30.0, SAME_LENGTH)
        return usual if found is None else found

    def _waist(self, side: Chain) -> Edge:
        start, end = self.centre_waist, side.start
        along = unit(end - start)
        down = along * -1j
        parts, darts, corner = [], [], start
        for dart in self.darts:
            middle = self._place(dart, start, end)
            parts.append(Chain.line(corner, middle - along * dart.width / 2))
            corner = middle + along * dart.width / 2
            darts.append(Dart(dart.name, middle + down * dart.length))
        parts.append(Chain.line(corner, end))
        edge = Edge("waist", "waist-centre", "waist-side", tuple(parts), tuple(darts))
        line = closed(edge)
        leaving = self.crotch.end_tangent * -1j
        arriving = line.motions[-1].rotation * side.start_tangent * 1j
        meets = [dart.meets for dart in line.darts]
        return line.opened(smooth_line([start, *meets, line.chain.end], leaving, arriving))

    def _place(self, dart: PanelDart, start: Point, end: Point) -> Point:
        share = start.real / (start.real - end.real) if dart.share is None else dart.share
        return start + (end - start) * share

    # --- crotch -----------------------------------------------------------------------------------

    @cached_property
    def crotch(self) -> Chain:
        """Return the crotch from the fork, square to the inseam, up the centre to the waist.

        The curve stays off the corner of centre and crotch line by the guide, as far as one hollow
        can.
        """
        leaving = self.inseam.end_tangent * -1j
        rising = unit(self.centre_waist - self.centre_hip)
        reach = cross(self.centre_hip - self.fork, rising) / cross(leaving, rising)
        corner = self.fork + reach * leaving
        up = min(reach * _CURVE_UP, abs(self.centre_waist - corner) * _HIGHEST_CURVE)
        top = corner + rising * up
        foot = self._at_crotch(rising)
        way = unit(unit(self.fork - foot) + rising)

        def drawn(share: float) -> Chain:
            start = self.fork
            return Chain(
                (Cubic(start, start + share * (corner - start), top + share * (corner - top), top),)
            )

        def farther(share: float) -> float:
            met = [abs(point - foot) for point in drawn(share).meetings(foot, way)]
            return min(met, default=0.0) - self.guide

        share = root_between(farther, _LEAST_SHARE, _MOST_SHARE, SAME_LENGTH)
        if share is None:
            share = min((_LEAST_SHARE, _MOST_SHARE), key=lambda each: abs(farther(each)))
        return Chain.joining([drawn(share), Chain.line(top, self.centre_waist)])

    def _at_crotch(self, rising: complex) -> Point:
        down = self.levels[1] - self.centre_hip.imag
        return self.centre_hip + rising * (down / rising.imag)

    # --- piece ------------------------------------------------------------------------------------

    def piece(self) -> Piece:
        """Return the piece, the grain along its crease."""
        hip, crotch, knee, hem = self.levels
        waist, side = self._waist(self.side), self.side
        straight = side.cubics[-1].length
        leaving, arriving = side.end_tangent * 1j, self.inseam.start_tangent * 1j
        across = smooth_join(side.end, leaving * -1, self.inseam.start, arriving)
        return Piece(
            self.name,
            (
                waist,
                Edge("side", "waist-side", "hem-side", (side.starting_at(waist.end),)),
                Edge("hem", "hem-side", "hem-inseam", (across,)),
                Edge("inseam", "hem-inseam", "fork", (self.inseam,)),
                Edge("crotch", "fork", "waist-centre", (self.crotch,)),
            ),
            notches=(
                Notch("hip", "side", Position("waist-side", distance=side.cubics[0].length)),
                Notch("knee", "side", Position("hem-side", distance=straight)),
                Notch(
                    "knee-inseam",
                    "inseam",
                    Position("hem-inseam", distance=self.inseam.cubics[0].length),
                ),
            ),
            grainline=Grainline(complex(0.0, hip), complex(0.0, hem - 50)),
            levels=(
                Level("waist", 0.0, "waist"),
                Level("hip", hip),
                Level("crotch", crotch),
                Level("knee", knee),
                Level("hem", hem, "hem"),
            ),
        )
