"""Front and back of a drafted bodice put together: what both systems do below their upper lines.

Lengths in mm, the centre back at x = 0.
"""

from dataclasses import dataclass

from trueup.geometry.drafting.bodice.marks import back_notches, front_notch
from trueup.geometry.drafting.bodice.waist import (
    BELOW_BUST_POINT,
    CLEAR_OF_BUST_DART,
    WaistDart,
    WaistShares,
    waist_line,
)
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point, unit
from trueup.geometry.pieces.closed_line import smoothed_at
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Level, Notch, Piece
from trueup.geometry.pieces.position import Position

_CENTRE_BACK_EASING = 40.0
_GRAIN_IN_FRONT, _GRAIN_BEHIND, _GRAIN_ABOVE_HEM = 60.0, 45.0, 50.0

Upper = tuple[Edge, Edge, Edge]
"""Neck, shoulder and armhole of a piece."""


@dataclass(frozen=True)
class Trunk:
    """What front and back of a bodice have in common from the underarm down."""

    underarm: Point
    width: float
    back_length: float
    chest_level: float
    bust_line: float
    shares: WaistShares

    @property
    def front_hem_side(self) -> Point:
        """Return where the side of the front ends at the waist."""
        return complex(self.underarm.real + self.shares.side_seam / 2, self.back_length)

    @property
    def back_hem_side(self) -> Point:
        """Return where the side of the back ends at the waist."""
        return complex(self.underarm.real - self.shares.side_seam / 2, self.back_length)

    @property
    def front_side_way(self) -> complex:
        """Return the direction in which the side of the front runs down."""
        return unit(self.front_hem_side - self.underarm)

    @property
    def back_side_way(self) -> complex:
        """Return the direction in which the side of the back runs down."""
        return unit(self.back_hem_side - self.underarm)

    def front(self, upper: Upper, neck_centre: Point, side_dart: Point, bust_point: Point) -> Piece:
        """Return the front on the fold, its waist darts below two apexes."""
        hem_centre = complex(self.width, self.back_length)
        shares = self.shares
        waist = waist_line(
            self.front_hem_side,
            (
                WaistDart("waist-side", side_dart, shares.front_side, CLEAR_OF_BUST_DART),
                WaistDart("waist", bust_point, shares.front, BELOW_BUST_POINT),
            ),
            hem_centre,
            leaving=self.front_side_way * -1j,
            arriving=1,
        )
        centre = Edge("centre", "hem-centre", "neck-centre", (Chain.line(hem_centre, neck_centre),))
        grain, at = self.width - _GRAIN_IN_FRONT, front_notch(upper[2])
        return Piece(
            "front",
            (*upper, self._side(self.front_hem_side), waist, centre),
            notches=(Notch("front", "armhole", Position("underarm", distance=at)),),
            grainline=self._grainline(grain, 80),
            fold="centre",
            levels=self._levels,
        )

    def back(self, upper: Upper, blade_level: float, side_dart: Point, dart: Point) -> Piece:
        """Return the back, its waist darts below two apexes, its centre shaped from the blades."""
        hem_centre, blade = complex(self.shares.centre_back, self.back_length), 1j * blade_level
        line = Chain.line(hem_centre, blade, 0j)
        centre = smoothed_at(line, abs(hem_centre - blade), _CENTRE_BACK_EASING)
        waist = waist_line(
            self.back_hem_side,
            (
                WaistDart("waist-side", side_dart, self.shares.back_side),
                WaistDart("waist", dart, self.shares.back),
            ),
            hem_centre,
            leaving=self.back_side_way * 1j,
            arriving=centre.start_tangent * -1j,
        )
        lower, above = back_notches(upper[2])
        return Piece(
            "back",
            (
                *upper,
                self._side(self.back_hem_side),
                waist,
                Edge("centre", "hem-centre", "neck-centre", (centre,)),
            ),
            notches=(
                Notch("back-lower", "armhole", Position("underarm", distance=lower)),
                Notch("back-upper", "armhole", Position("underarm", distance=above)),
            ),
            grainline=self._grainline(_GRAIN_BEHIND, 60),
            levels=self._levels,
        )

    def _side(self, hem_side: Point) -> Edge:
        return Edge("side", "underarm", "hem-side", (Chain.line(self.underarm, hem_side),))

    def _grainline(self, x: float, top: float) -> Grainline:
        return Grainline(complex(x, top), complex(x, self.back_length - _GRAIN_ABOVE_HEM))

    @property
    def _levels(self) -> tuple[Level, ...]:
        return (
            Level("chest", self.chest_level),
            Level("bust", self.bust_line),
            Level("waist", self.back_length, along="hem"),
        )
