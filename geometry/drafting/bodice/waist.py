"""The waist of a drafted bodice: its darts, and one line across them. Lengths in mm."""

import math
from dataclasses import dataclass

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_line
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.edge import Edge

CLEAR_OF_BUST_DART = 60.0
"""The side waist dart is sewn to so far below the bust line, so that the bust dart can be turned
into the side seam without first shortening it (common practice, no source)."""

BELOW_BUST_POINT = 25.0
"""The waist dart is sewn to so far below the bust point."""


@dataclass(frozen=True)
class WaistShares:
    """What each place takes out of half the waist, mm, from the centre front to the back."""

    front: float
    front_side: float
    side_seam: float
    back_side: float
    back: float
    centre_back: float


def shared_out(reduction: float) -> WaistShares:
    """Return how what half the block loses from bust to waist, mm, is shared out.

    Source: Bunka Fashion Series, Fundamentals of Garment Design, from memory.
    """
    percent = (14, 15, 11, 35, 18, 7)
    return WaistShares(*(reduction * share / 100 for share in percent))


@dataclass(frozen=True)
class WaistDart:
    """A waist dart that hangs straight down from its apex."""

    name: str
    apex: Point
    width: float
    setback: float = 0.0

    def mouth(self, level: float, towards: float) -> tuple[Point, Point]:
        """Return the mouth points on a level; `towards` is 1 when the hem runs right, else -1."""
        half = self.width / 2 * towards
        return complex(self.apex.real - half, level), complex(self.apex.real + half, level)


def waist_line(
    side: Point,
    darts: tuple[WaistDart, ...],
    centre: Point,
    leaving: complex,
    arriving: complex,
) -> Edge:
    """Return the waist line: one smooth line, square to side and centre, once its darts are closed.

    Mouth points and ends lie on the waist level; between them the open line rises a little.
    """
    towards = math.copysign(1.0, centre.real - side.real)
    mouths = [dart.mouth(side.imag, towards) for dart in darts]
    corners = [side, *(point for mouth in mouths for point in mouth), centre]
    parts = tuple(
        Chain.line(start, end) for start, end in zip(corners[::2], corners[1::2], strict=True)
    )
    opened = tuple(Dart(dart.name, dart.apex, dart.setback) for dart in darts)
    line = closed(Edge("hem", "hem-side", "hem-centre", parts, opened))
    meets = [dart.meets for dart in line.darts]
    return line.opened(
        smooth_line(
            [line.chain.start, *meets, line.chain.end],
            leaving=leaving,
            arriving=line.motions[-1].rotation * arriving,
        )
    )
