"""The construction lines and points of the bust-proportion bodice, all by formula.

Source of every formula: Bunka Fashion Series, Fundamentals of Garment Design, from memory.
Millimetres; the origin is the centre back neck, x runs to the centre front, y down.
"""

import cmath
import math
from dataclasses import dataclass
from functools import cached_property

from trueup.geometry.drafting.bodice.waist import WaistShares, shared_out
from trueup.geometry.errors import BadParameter
from trueup.geometry.lines.points import Motion, Point
from trueup.geometry.said import said

SHOULDER_BLADE = 80.0
"""How far the shoulder-blade line lies below the centre back neck."""

_BUST_EASE, _WAIST_EASE = 60.0, 30.0
_LEAST_REDUCTION, _LARGEST_REDUCTION = 15.0, 220.0
_SHORTEST_SIDE = 100.0
_FRONT_SLOPE, _BACK_SLOPE = math.radians(22), math.radians(18)


@dataclass(frozen=True)
class Frame:
    """The frame for one body: bust and waist girths and the nape-to-waist length, mm.

    Raises BadParameter when the draft cannot bring this bust to this waist, or the back is too
    short for this bust.
    """

    bust: float
    waist: float
    back_length: float

    def __post_init__(self) -> None:
        if not _LEAST_REDUCTION <= self.waist_reduction <= _LARGEST_REDUCTION:
            eased = self.bust + 2 * (_BUST_EASE - _WAIST_EASE)
            low, high = eased - 2 * _LARGEST_REDUCTION, eased - 2 * _LEAST_REDUCTION
            remedy = said("between-with-bust", bust=self.bust, low=low, high=high)
            raise BadParameter("waist", said("length", mm=self.waist), remedy)
        if self.back_length < self.bust_line + _SHORTEST_SIDE:
            least = math.ceil(self.bust_line + _SHORTEST_SIDE)
            remedy = said("at-least-with-bust", bust=self.bust, least=least)
            raise BadParameter("back-length", said("length", mm=self.back_length), remedy)

    # --- lines ------------------------------------------------------------------------------------

    @property
    def width(self) -> float:
        """Return the width of half the block: x of the centre front."""
        return self.bust / 2 + _BUST_EASE

    @property
    def bust_line(self) -> float:
        """Return y of the bust line, on which underarm and bust point lie."""
        return self.bust / 12 + 137

    @property
    def back_width(self) -> float:
        """Return half the back width: x of the back-width line."""
        return self.bust / 8 + 74

    @property
    def front_width(self) -> float:
        """Return x of the front-width line, half a chest width from the centre front."""
        return self.width - (self.bust / 8 + 62)

    @property
    def front_top(self) -> float:
        """Return y of the line through the front neck point."""
        return self.bust_line - (self.bust / 5 + 83)

    @property
    def guide_level(self) -> float:
        """Return y of the guide level, a little below half the depth of the back armhole."""
        return (SHOULDER_BLADE + self.bust_line) / 2 + 5

    @property
    def armhole_sixth(self) -> float:
        """Return a sixth of the armhole's width at the bust line."""
        return (self.front_armhole_foot.real - self.back_width) / 6

    # --- neck and shoulders -----------------------------------------------------------------------

    @property
    def neck_width(self) -> float:
        """Return the width of half the front neck."""
        return self.bust / 24 + 34

    @property
    def front_neck_depth(self) -> float:
        """Return the depth of the front neck."""
        return self.neck_width + 5

    @property
    def front_neck_point(self) -> Point:
        """Return the front neck point, where neck and shoulder meet."""
        return complex(self.width - self.neck_width, self.front_top)

    @property
    def front_neck_centre(self) -> Point:
        """Return the front neck at the centre."""
        return complex(self.width, self.front_top + self.front_neck_depth)

    @property
    def front_neck_guide(self) -> Point:
        """Return the point the front neck passes through: 2/3 down the diagonal, and 5 mm on."""
        diagonal = complex(-self.neck_width, self.front_neck_depth)
        reach = abs(diagonal) * 2 / 3 + 5
        return complex(self.width, self.front_top) + diagonal / abs(diagonal) * reach

    @property
    def back_neck_point(self) -> Point:
        """Return the back neck point."""
        width = self.neck_width + 2
        return complex(width, -width / 3)

    @property
    def shoulder_length(self) -> float:
        """Return the sewn length of the shoulder: to the front-width line, and 18 mm beyond."""
        run = self.front_neck_point.real - self.front_width
        return run / math.cos(_FRONT_SLOPE) + 18

    @property
    def front_shoulder_point(self) -> Point:
        """Return the front shoulder point, 22 degrees below the neck point."""
        along = cmath.rect(self.shoulder_length, _FRONT_SLOPE)
        return self.front_neck_point - along.conjugate()

    @property
    def shoulder_dart_width(self) -> float:
        """Return the width of the back shoulder dart at its mouth."""
        return self.bust / 32 - 8

    @property
    def back_shoulder_direction(self) -> complex:
        """Return the unit direction of the back shoulder, 18 degrees down from the neck point."""
        return cmath.rect(1.0, _BACK_SLOPE)

    @property
    def back_shoulder_point(self) -> Point:
        """Return the back shoulder point; the shoulder here holds its open dart."""
        length = self.shoulder_length + self.shoulder_dart_width
        return self.back_neck_point + self.back_shoulder_direction * length

    @property
    def shoulder_dart_apex(self) -> Point:
        """Return the tip of the back shoulder dart, on the shoulder-blade line."""
        return complex(self.back_width / 2 + 10, SHOULDER_BLADE)

    # --- bust and armhole -------------------------------------------------------------------------

    @property
    def bust_point(self) -> Point:
        """Return the bust point: midway over the chest, 7 mm towards the side."""
        return complex((self.front_width + self.width) / 2 - 7, self.bust_line)

    @property
    def front_armhole_foot(self) -> Point:
        """Return the point on the bust line below the lower end of the bust dart."""
        return complex(self.front_width - self.bust / 32, self.bust_line)

    @property
    def bust_dart_lower(self) -> Point:
        """Return the lower end of the bust dart, at the guide level."""
        return complex(self.front_armhole_foot.real, self.guide_level)

    @property
    def bust_dart_angle(self) -> float:
        """Return the angle of the bust dart in radians: in degrees B/4 − 2.5, B in cm."""
        return math.radians(self.bust / 40 - 2.5)

    @cached_property
    def bust_dart_opened(self) -> Motion:
        """Return the turn about the bust point that takes the dart's lower leg to the upper."""
        return Motion.turn(self.bust_point, self.bust_dart_angle)

    @property
    def underarm(self) -> Point:
        """Return the underarm point, midway over the armhole on the bust line."""
        return complex((self.back_width + self.front_armhole_foot.real) / 2, self.bust_line)

    # --- waist ------------------------------------------------------------------------------------

    @property
    def waist_reduction(self) -> float:
        """Return what half the block must lose from bust to waist."""
        return self.width - (self.waist / 2 + _WAIST_EASE)

    @cached_property
    def waist_shares(self) -> WaistShares:
        """Return how the waist reduction is shared out."""
        return shared_out(self.waist_reduction)
