"""The one-piece set-in sleeve of the bust-proportion system, drafted into its bodice's armhole."""

import math

from trueup.geometry.drafting.bust_proportion.bodice import back_notches, front_notch
from trueup.geometry.drafting.bust_proportion.frame import Frame
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_line
from trueup.geometry.lines.points import Point, unit
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Level, Notch, Piece
from trueup.geometry.pieces.position import Position

_FRONT_FULLNESS, _BACK_FULLNESS = 18.5, 19.5
_CROSSING_SHIFT = 10.0


def draw_sleeve(
    frame: Frame, front_armhole: Edge, back_armhole: Edge, sleeve_length: float
) -> Piece:
    """Return the sleeve for the two armholes, from shoulder point to wrist `sleeve_length` mm.

    The cap line lies at y = 0 with the crown above it at x = 0, front to the right.

    Source: Bunka Fashion Series, Fundamentals of Garment Design, from memory.
    """
    height = cap_height(frame)
    crown = complex(0, -height)
    front_diagonal = front_armhole.length
    back_diagonal = back_armhole.length + 10 + _back_extra(frame.bust)
    front = complex(math.sqrt(front_diagonal**2 - height**2), 0)
    back = complex(-math.sqrt(back_diagonal**2 - height**2), 0)
    front_half, back_half = _cap_halves(
        frame, crown, front, back, front_armhole.parts[-1], back_armhole.parts[-1]
    )
    cap = Chain.joining([front_half, back_half])
    hem_level = sleeve_length - height
    hem_front, hem_back = complex(front.real, hem_level), complex(back.real, hem_level)
    lower, upper = back_notches(back_armhole)
    return Piece(
        "sleeve",
        (
            Edge("cap", "front-underarm", "back-underarm", (cap,)),
            Edge("back-seam", "back-underarm", "hem-back", (Chain.line(back, hem_back),)),
            Edge("hem", "hem-back", "hem-front", (Chain.line(hem_back, hem_front),)),
            Edge("front-seam", "hem-front", "front-underarm", (Chain.line(hem_front, front),)),
        ),
        notches=(
            Notch("front", "cap", Position("front-underarm", distance=front_notch(front_armhole))),
            Notch("crown", "cap", Position("front-underarm", distance=front_half.length)),
            Notch("back-upper", "cap", Position("back-underarm", distance=upper)),
            Notch("back-lower", "cap", Position("back-underarm", distance=lower)),
        ),
        grainline=Grainline(complex(0, -height / 2), complex(0, hem_level - 50)),
        levels=(
            Level("biceps", 0.0),
            Level("elbow", sleeve_length / 2 + 25 - height),
            Level("wrist", hem_level, along="hem"),
        ),
    )


def cap_height(frame: Frame) -> float:
    """Return the height of the cap, mm: 5/6 of the mean height of the two shoulder points.

    The front shoulder point is taken with the bust dart closed on the armhole side.
    """
    front = frame.bust_dart_opened.inverse()(frame.front_shoulder_point)
    mean = frame.bust_line - (front.imag + frame.back_shoulder_point.imag) / 2
    return mean * 5 / 6


def _back_extra(bust: float) -> float:
    """Return what the back diagonal gains with size: 1 mm for every 5 cm of bust from 85 cm on."""
    return max(0.0, math.floor((bust - 800) / 50))


def _cap_halves(
    frame: Frame, crown: Point, front: Point, back: Point, front_bottom: Chain, back_bottom: Chain
) -> tuple[Chain, Chain]:
    level = frame.guide_level - frame.bust_line
    quarter = abs(front - crown) / 4
    down_front, down_back = unit(front - crown), unit(back - crown)
    front_crossing = crown + down_front * (level - crown.imag) / down_front.imag
    back_crossing = crown + down_back * (level - crown.imag) / down_back.imag
    cap = smooth_line(
        [
            front,
            _mirrored_bottom(frame, front_bottom, front, 1),
            front_crossing - down_front * _CROSSING_SHIFT,
            crown + down_front * quarter + down_front * -1j * _FRONT_FULLNESS,
            crown,
            crown + down_back * quarter + down_back * 1j * _BACK_FULLNESS,
            back_crossing + down_back * _CROSSING_SHIFT,
            _mirrored_bottom(frame, back_bottom, back, -1),
            back,
        ],
        leaving=-1,
        arriving=-1,
    )
    return Chain(cap.cubics[:4]), Chain(cap.cubics[4:])


def _mirrored_bottom(frame: Frame, bottom: Chain, end: Point, side: int) -> Point:
    """Return where the bottom of the armhole, mirrored, lies two sixths in from a cap's end.

    `side` is 1 for the front, whose armhole runs to the right of the underarm, -1 for the back.
    """
    inwards = 2 * frame.armhole_sixth
    at = bottom.crossings(frame.underarm + side * inwards, 1j)[-1]
    rise = bottom.point_at(at).imag - frame.underarm.imag
    return end + complex(-side * inwards, rise)
