"""The bodice of the bust-proportion system: frame points joined by lines, darts opened, trued."""

import cmath
import math

from trueup.geometry.drafting.bodice.back_shoulder import back_shoulder
from trueup.geometry.drafting.bodice.neck import FRONT_NECK_CORNER
from trueup.geometry.drafting.bodice.trunk import Trunk
from trueup.geometry.drafting.bust_proportion.frame import SHOULDER_BLADE, Frame
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_line
from trueup.geometry.lines.points import unit
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece

_DIAGONAL = cmath.rect(1.0, math.radians(45))


# --- front ----------------------------------------------------------------------------------------


def draw_front(frame: Frame) -> Piece:
    """Return the front: bust dart on the armhole, two waist darts, centre on the fold."""
    trunk = _trunk(frame)
    shoulder = Chain.line(frame.front_neck_point, frame.front_shoulder_point)
    return trunk.front(
        (
            Edge("neck", "neck-centre", "neck-point", (_front_neck(frame),)),
            Edge("shoulder", "neck-point", "shoulder-point", (shoulder,)),
            _front_armhole(frame, trunk.front_side_way),
        ),
        frame.front_neck_centre,
        frame.front_armhole_foot + 15,
        frame.bust_point,
    )


def _front_neck(frame: Frame) -> Chain:
    shoulder = frame.front_shoulder_point - frame.front_neck_point
    return smooth_line(
        [frame.front_neck_centre, frame.front_neck_guide, frame.front_neck_point],
        leaving=-1,
        arriving=-shoulder * cmath.rect(1.0, -FRONT_NECK_CORNER),
    )


def _front_armhole(frame: Frame, side_way: complex) -> Edge:
    """Return the armhole drawn as one line with the bust dart closed, and opened again.

    Halfway to the dart it touches the front-width line; in sizes so large that the dart's upper
    end comes inside that line it stands off it with the dart, or it would wave.
    """
    shoulder, neck = frame.front_shoulder_point, frame.front_neck_point
    raised = frame.bust_dart_opened
    meeting = raised(frame.bust_dart_lower)
    off = max(0.0, 0.9 * (meeting.real - frame.front_width) + 0.6)
    middle = complex(frame.front_width + off, (shoulder.imag + meeting.imag) / 2 + 10)
    foot = frame.front_armhole_foot - _DIAGONAL * (frame.armhole_sixth + 5)
    line = smooth_line(
        [shoulder, middle, meeting, raised(foot), raised(frame.underarm)],
        leaving=unit(shoulder - neck) * -1j,
        arriving=raised.rotation * side_way * 1j,
    )
    upper, lower = Chain(line.cubics[:2]), Chain(line.cubics[2:]).moved(raised.inverse())
    lower = lower.starting_at(frame.bust_dart_lower).ending_at(frame.underarm)
    return Edge(
        "armhole", "shoulder-point", "underarm", (upper, lower), (Dart("bust", frame.bust_point),)
    )


# --- back -----------------------------------------------------------------------------------------


def draw_back(frame: Frame) -> Piece:
    """Return the back: shoulder dart, two waist darts, and a shaped centre seam."""
    trunk, shoulder = _trunk(frame), _back_shoulder(frame)
    neck = smooth_line(
        [0j, frame.back_neck_point],
        leaving=1,
        arriving=shoulder.parts[0].start_tangent * cmath.rect(1.0, -FRONT_NECK_CORNER),
    )
    armhole = _back_armhole(frame, shoulder.parts[-1].end_tangent, trunk.back_side_way)
    return trunk.back(
        (
            Edge("neck", "neck-centre", "neck-point", (neck,)),
            shoulder,
            Edge("armhole", "shoulder-point", "underarm", (armhole,)),
        ),
        SHOULDER_BLADE,
        complex(frame.back_width - 10, frame.guide_level),
        complex(frame.shoulder_dart_apex.real - 5, frame.bust_line - 20),
    )


def _back_shoulder(frame: Frame) -> Edge:
    """Return the shoulder with its dart, the first leg 15 mm beyond where its tip was raised to."""
    neck, end, apex = frame.back_neck_point, frame.back_shoulder_point, frame.shoulder_dart_apex
    along = frame.back_shoulder_direction
    foot = neck + along * ((apex.real - neck.real) / along.real)
    return back_shoulder(neck, end, apex, foot + along * 15, frame.shoulder_length)


def _back_armhole(frame: Frame, shoulder_direction: complex, side_way: complex) -> Chain:
    """Return the armhole, square to the shoulder and to the side.

    Just below the shoulder blade it stands off the back-width line by what lets it run in one
    hollow from the shoulder point at every size; the book leaves this to the curve.
    """
    corner = complex(frame.back_width, frame.bust_line)
    return smooth_line(
        [
            frame.back_shoulder_point,
            complex(frame.back_width + frame.bust / 40 - 16.5, 90),
            complex(frame.back_width, frame.guide_level - 15),
            corner + _DIAGONAL.conjugate() * (frame.armhole_sixth + 8),
            frame.underarm,
        ],
        leaving=shoulder_direction * 1j,
        arriving=side_way * -1j,
    )


def _trunk(frame: Frame) -> Trunk:
    """Return what front and back have in common; the chest level runs just above the bust dart."""
    chest = frame.bust_dart_opened(frame.bust_dart_lower).imag - 10
    return Trunk(
        frame.underarm,
        frame.width,
        frame.back_length,
        chest,
        frame.bust_line,
        frame.waist_shares,
    )
