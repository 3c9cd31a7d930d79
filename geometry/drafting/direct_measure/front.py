"""The front of the direct-measure system: frame points joined by lines, darts opened, trued."""

import cmath

from trueup.geometry.drafting.bodice.hollow import hollow
from trueup.geometry.drafting.bodice.neck import FRONT_NECK_CORNER, neck_curve
from trueup.geometry.drafting.direct_measure.back import back_neck, trunk_of
from trueup.geometry.drafting.direct_measure.frame import MeasuredFrame
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import unit
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import SAME_LENGTH

_FRONT_CORNER_SHARE = 0.172
"""How near the armhole comes to its corner, as a share of its width: 20 mm in the worked size."""

_LEAST_NECK, _MOST_NECK = 0.2, 0.95


def draw_front(frame: MeasuredFrame) -> Piece:
    """Return the front: bust dart in the shoulder, two waist darts, centre on the fold."""
    trunk = trunk_of(frame)
    shoulder = _shoulder(frame)
    neck = Edge("neck", "neck-centre", "neck-point", (_neck(frame, shoulder),))
    return trunk.front(
        (neck, shoulder, _armhole(frame, trunk.front_side_way)),
        frame.front_neck_centre,
        complex(frame.chest_line + 15, frame.bust_line),
        frame.bust_point,
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


def _armhole(frame: MeasuredFrame, side_way: complex) -> Edge:
    end = frame.front_shoulder_point
    corner = complex(frame.chest_line, frame.bust_line)
    line = hollow(
        end,
        unit(end - frame.dart_beside_neck) * -1j,
        frame.underarm,
        side_way * 1j,
        corner,
        _FRONT_CORNER_SHARE * frame.armhole_width,
    )
    return Edge("armhole", "shoulder-point", "underarm", (line,))
