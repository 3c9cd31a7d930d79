"""The back of the direct-measure system: frame points joined by lines, darts opened, trued."""

import cmath

from trueup.geometry.drafting.bodice.back_shoulder import back_shoulder
from trueup.geometry.drafting.bodice.hollow import hollow
from trueup.geometry.drafting.bodice.marks import back_notches
from trueup.geometry.drafting.bodice.neck import FRONT_NECK_CORNER, neck_curve
from trueup.geometry.drafting.bodice.waist import WaistDart, waist_line
from trueup.geometry.drafting.direct_measure.frame import (
    BACK_DART_LEAN,
    BACK_DART_LENGTH,
    BACK_DART_WIDTH,
    MeasuredFrame,
)
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point, unit
from trueup.geometry.pieces.closed_line import smoothed_at
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Level, Notch, Piece
from trueup.geometry.pieces.position import Position

_BACK_CORNER_SHARE = 0.216
"""How near the armhole comes to its corner, as a share of its width: 25 mm in the worked size."""

_CENTRE_BACK_EASING = 40.0
_BACK_NECK_SHARES = (0.74, 0.96)


def draw_back(frame: MeasuredFrame) -> Piece:
    """Return the back: shoulder dart, two waist darts, and a shaped centre seam."""
    underarm, shares = frame.underarm, frame.waist_shares
    hem_side = complex(underarm.real - shares.side_seam / 2, frame.back_length)
    hem_centre = complex(shares.centre_back, frame.back_length)
    blade = complex(0, frame.blade_level)
    centre = smoothed_at(
        Chain.line(hem_centre, blade, 0j), abs(hem_centre - blade), _CENTRE_BACK_EASING
    )
    shoulder = _shoulder(frame)
    armhole = _armhole(frame, shoulder, hem_side)
    edges = (
        Edge("neck", "neck-centre", "neck-point", (back_neck(frame),)),
        shoulder,
        armhole,
        Edge("side", "underarm", "hem-side", (Chain.line(underarm, hem_side),)),
        waist_line(
            hem_side,
            (
                WaistDart(
                    "waist-side",
                    complex(frame.back_line - 10, (frame.chest_level + frame.bust_line) / 2),
                    shares.back_side,
                ),
                WaistDart("waist", complex(frame.back_line / 2, frame.bust_line - 20), shares.back),
            ),
            hem_centre,
            leaving=unit(hem_side - underarm) * 1j,
            arriving=centre.start_tangent * -1j,
        ),
        Edge("centre", "hem-centre", "neck-centre", (centre,)),
    )
    lower, upper = back_notches(armhole)
    return Piece(
        "back",
        edges,
        notches=(
            Notch("back-lower", "armhole", Position("underarm", distance=lower)),
            Notch("back-upper", "armhole", Position("underarm", distance=upper)),
        ),
        grainline=Grainline(complex(45, 60), complex(45, frame.back_length - 50)),
        levels=levels(frame),
    )


def back_neck(frame: MeasuredFrame) -> Chain:
    """Return the back neck, square to the centre; it rises so late that it bends easily."""
    shoulder = _shoulder(frame).parts[0].start_tangent
    arriving = shoulder * cmath.rect(1.0, -FRONT_NECK_CORNER)
    return neck_curve(0j, 1 + 0j, frame.back_neck_point, arriving, *_BACK_NECK_SHARES)


def levels(frame: MeasuredFrame) -> tuple[Level, ...]:
    """Return the levels of front and back."""
    return (
        Level("chest", frame.chest_level),
        Level("bust", frame.bust_line),
        Level("waist", frame.back_length, along="hem"),
    )


def _shoulder(frame: MeasuredFrame) -> Edge:
    """Return the shoulder, its dart in its middle and leaning towards the centre back."""
    neck, end = frame.back_neck_point, frame.back_shoulder_point
    along, middle = unit(end - neck), (neck + end) / 2
    apex = middle + along * 1j * BACK_DART_LENGTH - along * BACK_DART_LEAN
    first = middle - along * BACK_DART_WIDTH / 2
    return back_shoulder(neck, end, apex, first, frame.shoulder)


def _armhole(frame: MeasuredFrame, shoulder: Edge, hem_side: Point) -> Edge:
    line = hollow(
        frame.back_shoulder_point,
        shoulder.parts[-1].end_tangent * 1j,
        frame.underarm,
        unit(hem_side - frame.underarm) * -1j,
        complex(frame.back_line, frame.bust_line),
        _BACK_CORNER_SHARE * frame.armhole_width,
    )
    return Edge("armhole", "shoulder-point", "underarm", (line,))
