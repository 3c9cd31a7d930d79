"""The front of the direct-measure system: frame points joined by lines, darts opened, trued."""

import cmath

from trueup.geometry.drafting.bodice.hollow import hollow
from trueup.geometry.drafting.bodice.marks import front_notch
from trueup.geometry.drafting.bodice.neck import FRONT_NECK_CORNER, neck_curve
from trueup.geometry.drafting.bodice.waist import (
    BELOW_BUST_POINT,
    CLEAR_OF_BUST_DART,
    WaistDart,
    waist_line,
)
from trueup.geometry.drafting.direct_measure.back import back_neck, levels
from trueup.geometry.drafting.direct_measure.frame import MeasuredFrame
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point, unit
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.tolerance import SAME_LENGTH

_FRONT_CORNER_SHARE = 0.172
"""How near the armhole comes to its corner, as a share of its width: 20 mm in the worked size."""

_LEAST_NECK, _MOST_NECK = 0.2, 0.95


def draw_front(frame: MeasuredFrame) -> Piece:
    """Return the front: bust dart in the shoulder, two waist darts, centre on the fold."""
    underarm = frame.underarm
    hem_side = complex(underarm.real + frame.waist_shares.side_seam / 2, frame.back_length)
    hem_centre = complex(frame.width, frame.back_length)
    shoulder = _shoulder(frame)
    armhole = _armhole(frame, hem_side)
    edges = (
        Edge("neck", "neck-centre", "neck-point", (_neck(frame, shoulder),)),
        shoulder,
        armhole,
        Edge("side", "underarm", "hem-side", (Chain.line(underarm, hem_side),)),
        waist_line(
            hem_side,
            (
                WaistDart(
                    "waist-side",
                    complex(frame.chest_line + 15, frame.bust_line),
                    frame.waist_shares.front_side,
                    CLEAR_OF_BUST_DART,
                ),
                WaistDart("waist", frame.bust_point, frame.waist_shares.front, BELOW_BUST_POINT),
            ),
            hem_centre,
            leaving=unit(hem_side - underarm) * -1j,
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
        levels=levels(frame),
    )


def _shoulder(frame: MeasuredFrame) -> Edge:
    """Return the shoulder with the bust dart in its middle; straight once the dart is closed."""
    far, end = frame.dart_beside_neck, frame.front_shoulder_point
    mouth = (far + end) / 2
    first = frame.bust_point + (mouth - frame.bust_point) / frame.dart_turn
    return Edge(
        "shoulder",
        "neck-point",
        "shoulder-point",
        (Chain.line(frame.front_neck_point, first), Chain.line(mouth, end)),
        (Dart("bust", frame.bust_point),),
    )


def _neck(frame: MeasuredFrame, shoulder: Edge) -> Chain:
    """Return the neck, square to the centre, so hollow that the neck comes out as measured.

    A neck that no such curve gives comes out as near as it may.
    """
    direction = shoulder.parts[0].start_tangent
    arriving = -direction * cmath.rect(1.0, -FRONT_NECK_CORNER)
    wanted = frame.neck / 2 - back_neck(frame).length

    def drawn(share: float) -> Chain:
        start, end = frame.front_neck_centre, frame.front_neck_point
        return neck_curve(start, -1 + 0j, end, arriving, share, share)

    def longer(share: float) -> float:
        return drawn(share).length - wanted

    share = root_between(longer, _LEAST_NECK, _MOST_NECK, SAME_LENGTH)
    if share is None:
        share = min((_LEAST_NECK, _MOST_NECK), key=lambda each: abs(longer(each)))
    return drawn(share)


def _armhole(frame: MeasuredFrame, hem_side: Point) -> Edge:
    end = frame.front_shoulder_point
    corner = complex(frame.chest_line, frame.bust_line)
    line = hollow(
        end,
        unit(end - frame.dart_beside_neck) * -1j,
        frame.underarm,
        unit(hem_side - frame.underarm) * 1j,
        corner,
        _FRONT_CORNER_SHARE * frame.armhole_width,
    )
    return Edge("armhole", "shoulder-point", "underarm", (line,))
