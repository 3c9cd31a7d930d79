"""The one-piece set-in sleeve, drafted into the armhole of its bodice. Lengths in mm."""

import math
from dataclasses import dataclass

from trueup.geometry.drafting.bodice.marks import back_notches, front_notch
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_line
from trueup.geometry.lines.points import Point, unit
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Level, Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.tolerance import SAME_LENGTH

_FRONT_FULLNESS, _BACK_FULLNESS = 18.5, 19.5
_CROSSING_SHIFT = 10.0
_MOST_PASSES = 60


def height_of_cap(mean: float) -> float:
    """Return the height of a cap, mm: 5/6 of the mean height of the shoulder points, mm.

    Source: Bunka Fashion Series, Fundamentals of Garment Design, from memory.
    """
    return mean * 5 / 6


@dataclass(frozen=True)
class SetInSleeve:
    """The sleeve for two armholes, the cap of a given height over diagonals of given lengths, mm.

    `underarm` is where the armholes meet, `guide` how far above it their guide level lies at which
    the cap crosses its diagonals, `copied` how far in from the underarm the cap copies them.

    The cap line lies at y = 0 with the crown above it at x = 0, front to the right.

    Source: Bunka Fashion Series, Fundamentals of Garment Design, from memory.
    """

    front_armhole: Edge
    back_armhole: Edge
    underarm: Point
    height: float
    guide: float
    copied: float

    def with_ease(self, ease: float, front_share: float, length: float) -> Piece:
        """Return the sleeve whose cap is so much longer than the armhole, mm, part of it in front.

        Each half of the cap is as long as its half of the armhole with its share of the ease: the
        diagonals follow.
        """
        front, back = self.front_armhole.length, self.back_armhole.length
        wanted = front + ease * front_share, back + ease * (1 - front_share)
        front_diagonal, back_diagonal = wanted
        for _ in range(_MOST_PASSES):
            halves = self._cap_halves(front_diagonal, back_diagonal)
            lacking = [w - half.length for w, half in zip(wanted, halves, strict=True)]
            if max(map(abs, lacking)) < SAME_LENGTH:
                break
            front_diagonal += lacking[0]
            back_diagonal += lacking[1]
        return self.over(front_diagonal, back_diagonal, length)

    def over(self, front_diagonal: float, back_diagonal: float, length: float) -> Piece:
        """Return the sleeve with its cap over two diagonals, `length` mm from crown to wrist."""
        height = self.height
        front_half, back_half = self._cap_halves(front_diagonal, back_diagonal)
        front, back = front_half.start, back_half.end
        cap = Chain.joining([front_half, back_half])
        hem_level = length - height
        hem_front, hem_back = complex(front.real, hem_level), complex(back.real, hem_level)
        lower, upper = back_notches(self.back_armhole)
        notch = front_notch(self.front_armhole)
        return Piece(
            "sleeve",
            (
                Edge("cap", "front-underarm", "back-underarm", (cap,)),
                Edge("back-seam", "back-underarm", "hem-back", (Chain.line(back, hem_back),)),
                Edge("hem", "hem-back", "hem-front", (Chain.line(hem_back, hem_front),)),
                Edge("front-seam", "hem-front", "front-underarm", (Chain.line(hem_front, front),)),
            ),
            notches=(
                Notch("front", "cap", Position("front-underarm", distance=notch)),
                Notch("crown", "cap", Position("front-underarm", distance=front_half.length)),
                Notch("back-upper", "cap", Position("back-underarm", distance=upper)),
                Notch("back-lower", "cap", Position("back-underarm", distance=lower)),
            ),
            grainline=Grainline(complex(0, -height / 2), complex(0, hem_level - 50)),
            levels=(
                Level("biceps", 0.0),
                Level("elbow", length / 2 + 25 - height),
                Level("wrist", hem_level, along="hem"),
            ),
        )

    def _cap_halves(self, front_diagonal: float, back_diagonal: float) -> tuple[Chain, Chain]:
        crown = complex(0, -self.height)
        front = complex(math.sqrt(front_diagonal**2 - self.height**2), 0)
        back = complex(-math.sqrt(back_diagonal**2 - self.height**2), 0)
        level = -self.guide
        quarter = abs(front - crown) / 4
        down_front, down_back = unit(front - crown), unit(back - crown)
        front_crossing = crown + down_front * (level - crown.imag) / down_front.imag
        back_crossing = crown + down_back * (level - crown.imag) / down_back.imag
        cap = smooth_line(
            [
                front,
                self._mirrored_bottom(self.front_armhole, front, 1),
                front_crossing - down_front * _CROSSING_SHIFT,
                crown + down_front * quarter + down_front * -1j * _FRONT_FULLNESS,
                crown,
                crown + down_back * quarter + down_back * 1j * _BACK_FULLNESS,
                back_crossing + down_back * _CROSSING_SHIFT,
                self._mirrored_bottom(self.back_armhole, back, -1),
                back,
            ],
            leaving=-1,
            arriving=-1,
        )
        return Chain(cap.cubics[:4]), Chain(cap.cubics[4:])

    def _mirrored_bottom(self, armhole: Edge, end: Point, side: int) -> Point:
        """Return where the bottom of the armhole, mirrored, lies so far in from a cap's end.

        `side` is 1 for the front, whose armhole runs to the right of the underarm, -1 for the back.
        """
        bottom = armhole.parts[-1]
        at = bottom.crossings(self.underarm + side * self.copied, 1j)[-1]
        rise = bottom.point_at(at).imag - self.underarm.imag
        return end + complex(-side * self.copied, rise)
