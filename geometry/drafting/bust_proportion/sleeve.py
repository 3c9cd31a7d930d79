"""The sleeve of the bust-proportion system, its cap by the drafted armhole. Lengths in mm."""

import math

from trueup.geometry.drafting.bodice.sleeve import SetInSleeve, height_of_cap
from trueup.geometry.drafting.bust_proportion.frame import Frame
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece


def draw_sleeve(
    frame: Frame, front_armhole: Edge, back_armhole: Edge, sleeve_length: float
) -> Piece:
    """Return the sleeve for the two armholes, from shoulder point to wrist `sleeve_length` mm.

    The front diagonal is the front armhole, the back one the back armhole and a little more.

    Source: Bunka Fashion Series, Fundamentals of Garment Design, from memory.
    """
    sleeve = SetInSleeve(
        front_armhole,
        back_armhole,
        frame.underarm,
        cap_height(frame),
        frame.bust_line - frame.guide_level,
        2 * frame.armhole_sixth,
    )
    back_diagonal = back_armhole.length + 10 + _back_extra(frame.bust)
    return sleeve.over(front_armhole.length, back_diagonal, sleeve_length)


def cap_height(frame: Frame) -> float:
    """Return the height of the cap, mm: 5/6 of the mean height of the two shoulder points.

    The front shoulder point is taken with the bust dart closed on the armhole side.
    """
    front = frame.bust_dart_opened.inverse()(frame.front_shoulder_point)
    mean = frame.bust_line - (front.imag + frame.back_shoulder_point.imag) / 2
    return height_of_cap(mean)


def _back_extra(bust: float) -> float:
    """Return what the back diagonal gains with size: 1 mm for every 5 cm of bust from 85 cm on."""
    return max(0.0, math.floor((bust - 800) / 50))
