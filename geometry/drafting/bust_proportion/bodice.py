"""The bodice of the bust-proportion system: frame points joined by lines, darts opened, trued."""

import cmath
import math

from trueup.geometry.drafting.bodice.back_shoulder import back_shoulder
from trueup.geometry.drafting.bodice.marks import back_notches, front_notch
from trueup.geometry.drafting.bodice.neck import FRONT_NECK_CORNER
from trueup.geometry.drafting.bodice.waist import (
    BELOW_BUST_POINT,
    CLEAR_OF_BUST_DART,
    WaistDart,
    waist_line,
)
from trueup.geometry.drafting.bust_proportion.frame import SHOULDER_BLADE, Frame
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_line
from trueup.geometry.lines.points import Point, unit
from trueup.geometry.pieces.closed_line import smoothed_at
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Level, Notch, Piece
from trueup.geometry.pieces.position import Position

_CENTRE_BACK_EASING = 40.0
_DIAGONAL = cmath.rect(1.0, math.radians(45))


# --- front ----------------------------------------------------------------------------------------


def draw_front(frame: Frame) -> Piece:
    """Return the front: bust dart on the armhole, two waist darts, centre on the fold."""
    hem_side = complex(frame.underarm.real + frame.waist_shares.side_seam / 2, frame.back_length)
    hem_centre = complex(frame.width, frame.back_length)
    armhole = _front_armhole(frame, hem_side)
    edges = (
        Edge("neck", "neck-centre", "neck-point", (_front_neck(frame),)),
        Edge(
            "shoulder",
            "neck-point",
            "shoulder-point",
            (Chain.line(frame.front_neck_point, frame.front_shoulder_point),),
        ),
        armhole,
        Edge("side", "underarm", "hem-side", (Chain.line(frame.underarm, hem_side),)),
        waist_line(
            hem_side,
            (
                WaistDart(
                    "waist-side",
                    frame.front_armhole_foot + 15,
                    frame.waist_shares.front_side,
                    CLEAR_OF_BUST_DART,
                ),
                WaistDart("waist", frame.bust_point, frame.waist_shares.front, BELOW_BUST_POINT),
            ),
            hem_centre,
            leaving=unit(hem_side - frame.underarm) * -1j,
            arriving=1,
        ),
        Edge(
            "centre",
            "hem-centre",
            "neck-centre",
            (Chain.line(hem_centre, frame.front_neck_centre),),
        ),
    )
    grain = frame.width - 60
    return Piece(
        "front",
        edges,
        notches=(Notch("front", "armhole", Position("underarm", distance=front_notch(armhole))),),
        grainline=Grainline(complex(grain, 80), complex(grain, frame.back_length - 50)),
        fold="centre",
        levels=_levels(frame),
    )


def _front_neck(frame: Frame) -> Chain:
    shoulder = frame.front_shoulder_point - frame.front_neck_point
    return smooth_line(
        [frame.front_neck_centre, frame.front_neck_guide, frame.front_neck_point],
        leaving=-1,
        arriving=-shoulder * cmath.rect(1.0, -FRONT_NECK_CORNER),
    )


def _front_armhole(frame: Frame, hem_side: Point) -> Edge:
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
        arriving=raised.rotation * unit(hem_side - frame.underarm) * 1j,
    )
    upper, lower = Chain(line.cubics[:2]), Chain(line.cubics[2:]).moved(raised.inverse())
    lower = lower.starting_at(frame.bust_dart_lower).ending_at(frame.underarm)
    return Edge(
        "armhole", "shoulder-point", "underarm", (upper, lower), (Dart("bust", frame.bust_point),)
    )


# --- back -----------------------------------------------------------------------------------------


def draw_back(frame: Frame) -> Piece:
    """Return the back: shoulder dart, two waist darts, and a shaped centre seam."""
    hem_side = complex(frame.underarm.real - frame.waist_shares.side_seam / 2, frame.back_length)
    hem_centre = complex(frame.waist_shares.centre_back, frame.back_length)
    shoulder = _back_shoulder(frame)
    blade = complex(0, SHOULDER_BLADE)
    centre = smoothed_at(
        Chain.line(hem_centre, blade, 0j), abs(hem_centre - blade), _CENTRE_BACK_EASING
    )
    neck = smooth_line(
        [0j, frame.back_neck_point],
        leaving=1,
        arriving=shoulder.parts[0].start_tangent * cmath.rect(1.0, -FRONT_NECK_CORNER),
    )
    bust_line, back_width = frame.bust_line, frame.back_width
    armhole = _back_armhole(frame, shoulder.parts[-1].end_tangent, hem_side)
    edges = (
        Edge("neck", "neck-centre", "neck-point", (neck,)),
        shoulder,
        Edge(
            "armhole",
            "shoulder-point",
            "underarm",
            (armhole,),
        ),
        Edge("side", "underarm", "hem-side", (Chain.line(frame.underarm, hem_side),)),
        waist_line(
            hem_side,
            (
                WaistDart(
                    "waist-side",
                    complex(back_width - 10, frame.guide_level),
                    frame.waist_shares.back_side,
                ),
                WaistDart(
                    "waist",
                    complex(frame.shoulder_dart_apex.real - 5, bust_line - 20),
                    frame.waist_shares.back,
                ),
            ),
            hem_centre,
            leaving=unit(hem_side - frame.underarm) * 1j,
            arriving=centre.start_tangent * -1j,
        ),
        Edge("centre", "hem-centre", "neck-centre", (centre,)),
    )
    lower, upper = back_notches(edges[2])
    return Piece(
        "back",
        edges,
        notches=(
            Notch("back-lower", "armhole", Position("underarm", distance=lower)),
            Notch("back-upper", "armhole", Position("underarm", distance=upper)),
        ),
        grainline=Grainline(complex(45, 60), complex(45, frame.back_length - 50)),
        levels=_levels(frame),
    )


def _back_shoulder(frame: Frame) -> Edge:
    """Return the shoulder with its dart, the first leg 15 mm beyond where its tip was raised to."""
    neck, end, apex = frame.back_neck_point, frame.back_shoulder_point, frame.shoulder_dart_apex
    along = frame.back_shoulder_direction
    foot = neck + along * ((apex.real - neck.real) / along.real)
    return back_shoulder(neck, end, apex, foot + along * 15, frame.shoulder_length)


def _back_armhole(frame: Frame, shoulder_direction: complex, hem_side: Point) -> Chain:
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
        arriving=unit(hem_side - frame.underarm) * -1j,
    )


def _levels(frame: Frame) -> tuple[Level, ...]:
    """Return the levels of front and back; the chest level runs just above the bust dart."""
    return (
        Level("chest", frame.bust_dart_opened(frame.bust_dart_lower).imag - 10),
        Level("bust", frame.bust_line),
        Level("waist", frame.back_length, along="hem"),
    )
