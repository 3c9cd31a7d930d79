"""The back of the direct-measure system: frame points joined by lines, darts opened, trued."""

import cmath

from trueup.geometry.drafting.bodice.back_shoulder import back_shoulder
from trueup.geometry.drafting.bodice.hollow import hollow
from trueup.geometry.drafting.bodice.neck import FRONT_NECK_CORNER, neck_curve
from trueup.geometry.drafting.bodice.trunk import Trunk
from trueup.geometry.drafting.direct_measure.frame import (
    BACK_DART_LEAN,
    BACK_DART_LENGTH,
    BACK_DART_WIDTH,
    MeasuredFrame,
)
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import unit
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece

_BACK_CORNER_SHARE = 0.216
"""How near the armhole comes to its corner, as a share of its width: 25 mm in the worked size."""

_BACK_NECK_SHARES = (0.74, 0.96)


def draw_back(frame: MeasuredFrame) -> Piece:
    """Return the back: shoulder dart, two waist darts, and a shaped centre seam."""
    trunk, shoulder = trunk_of(frame), _shoulder(frame)
    neck = Edge("neck", "neck-centre", "neck-point", (back_neck(frame),))
    return trunk.back(
        (neck, shoulder, _armhole(frame, shoulder, trunk.back_side_way)),
        frame.blade_level,
        complex(frame.back_line - 10, (frame.chest_level + frame.bust_line) / 2),
        complex(frame.back_line / 2, frame.bust_line - 20),
    )


def trunk_of(frame: MeasuredFrame) -> Trunk:
    """Return what front and back have in common."""
    return Trunk(
        frame.underarm,
        frame.width,
        frame.back_length,
        frame.chest_level,
        frame.bust_line,
        frame.waist_shares,
    )


def back_neck(frame: MeasuredFrame) -> Chain:
    """Return the back neck, square to the centre; it rises so late that it bends easily."""
    shoulder = _shoulder(frame).parts[0].start_tangent
    arriving = shoulder * cmath.rect(1.0, -FRONT_NECK_CORNER)
    return neck_curve(0j, 1 + 0j, frame.back_neck_point, arriving, *_BACK_NECK_SHARES)


def _shoulder(frame: MeasuredFrame) -> Edge:
    """Return the shoulder, its dart in its middle and leaning towards the centre back."""
    neck, end = frame.back_neck_point, frame.back_shoulder_point
    along, middle = unit(end - neck), (neck + end) / 2
    apex = middle + along * 1j * BACK_DART_LENGTH - along * BACK_DART_LEAN
    first = middle - along * BACK_DART_WIDTH / 2
    return back_shoulder(neck, end, apex, first, frame.shoulder)


def _armhole(frame: MeasuredFrame, shoulder: Edge, side_way: complex) -> Edge:
    line = hollow(
        frame.back_shoulder_point,
        shoulder.parts[-1].end_tangent * 1j,
        frame.underarm,
        side_way * -1j,
        complex(frame.back_line, frame.bust_line),
        _BACK_CORNER_SHARE * frame.armhole_width,
    )
    return Edge("armhole", "shoulder-point", "underarm", (line,))
