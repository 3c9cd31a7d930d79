"""The straight skirt: a front on the fold and a back, with a waist dart each. Lengths in mm.

Every width is a share of waist or hip plus a constant; the hip line lies at the measured depth, and
from there the side hangs straight to the hem. A waistband or a facing is drafted to its waist.

Source: WikiEducator, open course on pattern drafting, the skirt block (open licence); its worked
size, waist 72, hip 96, waist to hip 20.6 cm. Drafted beyond the page: the waist is one smooth line
with the dart closed, square to centre and side, and as long as the page has it along a straight
one; the side of the front is raised by the little that makes it as long as that of the back.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from trueup.geometry.drafting.base import BodyMeasurement, DraftingSystem
from trueup.geometry.drafting.measurements import HIP, HIP_DEPTH, WAIST
from trueup.geometry.drafting.mirrored import mirrored
from trueup.geometry.errors import BadParameter
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_join, smooth_line
from trueup.geometry.lines.points import unit
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.draft import Draft, Join, Run, Seam
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Level, Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_LENGTH

FRONT, BACK = "skirt-front", "skirt-back"

_HIP_EASE, _MORE_BEHIND = 25.0, 7.5
_DART_WIDTH, _BACK_DART, _FRONT_DART = 20.0, 120.0, 100.0
_BACK_WAIST_EASE, _FROM_CENTRE = 12.0, 10.0
_SIDE_RAISED, _MOST_RAISED = 10.0, 30.0
_LEAST_SHAPING = 5.0

_SEAMS = (Seam("skirt-side-seam", (Run(FRONT, "side"),), (Run(BACK, "side"),)),)
_JOINS = (
    Join("skirt-waist-at-side", (FRONT, "waist", "waist-side"), (BACK, "waist", "waist-side")),
    Join("skirt-hem-at-side", (FRONT, "hem", "hem-side"), (BACK, "hem", "hem-side")),
)


@dataclass(frozen=True)
class _Half:
    """Half a piece as the back lies: its centre at x = 0, its side to the right, y down, mm."""

    hip: float
    waist: float
    hip_depth: float
    length: float
    dart: float

    def side(self, raised: float) -> Chain:
        """Return the side from the waist over the hip to the hem."""
        return self._side(self._reach(raised), raised)

    def _side(self, reach: float, raised: float) -> Chain:
        top, hip = complex(reach, -raised), complex(self.hip, self.hip_depth)
        chord = unit(hip - top)
        curve = smooth_join(top, chord * chord / 1j, hip, 1j)
        return Chain.joining([curve, Chain.line(hip, complex(self.hip, self.length))])

    def _reach(self, raised: float) -> float:
        """Return how far from the centre the side begins, so that the sewn waist is as wanted."""

        def longer(reach: float) -> float:
            return self._waist(self._side(reach, raised)).length - (self.waist - _DART_WIDTH)

        found = root_between(longer, 0.9 * self.waist, self.waist, SAME_LENGTH)
        return self.waist if found is None else found

    def piece(self, name: str, raised: float, *, on_fold: bool) -> Piece:
        """Return the piece, its dart half way along the waist and a little more."""
        side = self.side(raised)
        hem_side, hem_centre = side.end, complex(0.0, self.length)
        waist = self._waist(side)
        grain = self.hip / 3
        hip = Position("waist-side", distance=side.cubics[0].length)
        return Piece(
            name,
            (
                waist,
                Edge("side", "waist-side", "hem-side", (side.starting_at(waist.end),)),
                Edge("hem", "hem-side", "hem-centre", (Chain.line(hem_side, hem_centre),)),
                Edge("centre", "hem-centre", "waist-centre", (Chain.line(hem_centre, 0j),)),
            ),
            notches=(Notch("hip", "side", hip),),
            grainline=Grainline(complex(grain, self.hip_depth), complex(grain, self.length - 50)),
            fold="centre" if on_fold else None,
            levels=(Level("waist", 0.0, "waist"), Level("hip", self.hip_depth)),
        )

    def _waist(self, side: Chain) -> Edge:
        reach = side.start.real
        at, slope = reach / 2 + _FROM_CENTRE, side.start.imag / reach
        mouth = [complex(x, slope * x) for x in (at - _DART_WIDTH / 2, at + _DART_WIDTH / 2)]
        apex = complex(at, slope * at + self.dart)
        parts = (Chain.line(0j, mouth[0]), Chain.line(mouth[1], side.start))
        line = closed(Edge("waist", "waist-centre", "waist-side", parts, (Dart("waist", apex),)))
        (dart,) = line.darts
        square = line.motions[-1].rotation * side.start_tangent * -1j
        return line.opened(smooth_line([0j, dart.meets, line.chain.end], 1 + 0j, square))


def _draw(body: Mapping[str, float]) -> Draft:
    waist, width = body["waist"], body["hip"] / 2 + _HIP_EASE
    back_hip = width / 2 + _MORE_BEHIND
    depth, length = body["hip-depth"], body["skirt-length"]
    quarter = waist / 4 + _DART_WIDTH
    back = _Half(back_hip, quarter + _BACK_WAIST_EASE, depth, length, _BACK_DART)
    front = _Half(width - back_hip, quarter, depth, length, _FRONT_DART)
    if min(back.hip - back.waist, front.hip - front.waist) < _LEAST_SHAPING:
        most = 4 * (front.hip - _DART_WIDTH - _BACK_WAIST_EASE - _LEAST_SHAPING)
        raise BadParameter("waist", said("length", mm=waist), said("at-most", most=most))
    if length < depth + _FRONT_DART:
        least = said("longer-than", least=depth + _FRONT_DART)
        raise BadParameter("skirt-length", said("length", mm=length), least)
    as_long = back.side(_SIDE_RAISED).length
    raised = root_between(
        lambda up: front.side(up).length - as_long, -_MOST_RAISED, _MOST_RAISED, SAME_LENGTH
    )
    pieces = (
        mirrored(front.piece(FRONT, raised or _SIDE_RAISED, on_fold=True), width),
        back.piece(BACK, _SIDE_RAISED, on_fold=False),
    )
    return Draft(pieces, _SEAMS, _JOINS)


STRAIGHT_SKIRT = DraftingSystem(
    "straight-skirt",
    "straight skirt with a waist dart in front and behind",
    (
        WAIST,
        HIP,
        HIP_DEPTH,
        BodyMeasurement("skirt-length", "length from waist to hem", 300, 1300),
    ),
    _draw,
)
