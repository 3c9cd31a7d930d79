"""The frame of the direct-measure system: its lines and points, from body measurements. mm.

x runs from the centre back to the centre front, y down from the nape.

Source: a published system of direct measurements for a close-fitting bodice, from memory.
"""

import cmath
import math
from dataclasses import dataclass

from trueup.geometry.drafting.bodice.waist import WaistShares, shared_out
from trueup.geometry.errors import BadParameter
from trueup.geometry.lines.points import Point
from trueup.geometry.said import said

TOP = -15.0
"""y of the top line, on which both neck points lie: the nape lies so far below it."""

BACK_DART_WIDTH, BACK_DART_LENGTH, BACK_DART_LEAN = 10.0, 50.0, 10.0

_BUST_EASE, _WAIST_EASE = 50.0, 30.0
_BELOW_BUST_LINE = 25.0
_FRONT_SHOULDER_LOWER = 15.0
_LEAST_REDUCTION, _LARGEST_REDUCTION = 15.0, 220.0
_BETWEEN_DARTS, _OF_BACK_DARTS = 17.0, 0.265
_BESIDE_SIDE, _OF_SIDE = 3.0, 0.23
"""The two darts of the back lie half the back width less 10 apart, and half the armhole and 10 off
the side. What they take, and the side, are such shares of the reduction; some cloth is left."""

_SHORTEST_SIDE = 100.0
_LEAST_DEPTH, _LARGEST_DEPTH = 0.43, 0.85
_NARROWEST_ARMHOLE, _WIDEST_ARMHOLE = 80.0, 190.0
_BEYOND, _CROSSES = 0.0, 12.0


@dataclass(frozen=True)
class _Run:
    """A shoulder: so far `to` its width line, its `drop`, its end so far `above` the underarm."""

    to: float
    drop: float
    above: float

    def shoulders(self) -> tuple[float, float]:
        """Return the least and the longest length of it, mm."""
        least, reach = max(self.to + _BEYOND, 0.0), self.to - _CROSSES
        most = (reach + math.sqrt(reach**2 + 4 * self.above * self.drop)) / 2
        return math.hypot(least, self.drop), math.hypot(most, self.drop)


@dataclass(frozen=True)
class MeasuredFrame:
    """The frame for one body: its girths, widths and lengths, mm.

    Raises BadParameter when they contradict one another.
    """

    bust: float
    waist: float
    back_length: float
    neck: float
    shoulder: float
    back_width: float
    chest_width: float
    armscye_depth: float

    def __post_init__(self) -> None:
        depths = (_LEAST_DEPTH * self.neck, _LARGEST_DEPTH * self.neck)
        self._require("armscye-depth", self.armscye_depth, depths, "neck")
        self._require("back-length", self.back_length, self._back_lengths(), "armscye-depth")
        self._require("chest-width", self.chest_width, self._chest_widths(), "bust")
        self._require_waist()
        low, high = self._shoulders()
        if low > high:
            value = said("length", mm=self.chest_width)
            widths = said("goes-not-with", name="back-width", mm=self.back_width)
            raise BadParameter("chest-width", value, widths)
        self._require("shoulder", self.shoulder, (low, high), "back-width")

    def _require_waist(self) -> None:
        most = min(
            _LARGEST_REDUCTION,
            (self.back_line / 2 - _BETWEEN_DARTS) / _OF_BACK_DARTS,
            (self.armhole_width / 2 + _BESIDE_SIDE) / _OF_SIDE,
        )
        if not _LEAST_REDUCTION <= self.waist_reduction <= most:
            eased = self.bust + 2 * (_BUST_EASE - _WAIST_EASE)
            low, high = eased - 2 * most, eased - 2 * _LEAST_REDUCTION
            remedy = said("between-with-bust", bust=self.bust, low=low, high=high)
            raise BadParameter("waist", said("length", mm=self.waist), remedy)

    def _require(self, name: str, value: float, between: tuple[float, float], other: str) -> None:
        low, high = between
        if not low <= value <= high:
            taken = getattr(self, other.replace("-", "_"))
            bounds = {"low": math.ceil(low), "high": math.floor(high)}
            remedy = said("between-with", name=other, mm=taken, **bounds)
            raise BadParameter(name, said("length", mm=value), remedy)

    def _back_lengths(self) -> tuple[float, float]:
        return self.bust_line + _SHORTEST_SIDE, self.bust_line + 4 * _SHORTEST_SIDE

    def _chest_widths(self) -> tuple[float, float]:
        room = 2 * (self.width - self.back_line) - self.dart_width
        return room - 2 * _WIDEST_ARMHOLE, room - 2 * _NARROWEST_ARMHOLE

    def _shoulders(self) -> tuple[float, float]:
        """Return the least and the longest shoulder with which both armholes can be drawn, mm.

        The shoulder points lie beyond the widths of back and chest, and so near to them that a
        line square to the shoulder still crosses them above the underarm.
        """
        dart, level = self.dart_beside_neck, self.shoulder_level
        back = _Run(self.back_line - self.back_neck_point.real, level - TOP, self.bust_line - level)
        level += _FRONT_SHOULDER_LOWER
        front = _Run(dart.real - self.chest_line, level - dart.imag, self.bust_line - level)
        (least_back, most_back), (least, most) = back.shoulders(), front.shoulders()
        return max(least_back - BACK_DART_WIDTH, least), min(most_back - BACK_DART_WIDTH, most)

    # --- lines ------------------------------------------------------------------------------------

    @property
    def width(self) -> float:
        """Return the width of half the block: x of the centre front."""
        return self.bust / 2 + _BUST_EASE

    @property
    def bust_line(self) -> float:
        """Return y of the bust line, on which the underarm lies."""
        return self.armscye_depth + 5

    @property
    def shoulder_level(self) -> float:
        """Return y of the level at which the back shoulder ends."""
        return self.armscye_depth / 5 - 7

    @property
    def back_line(self) -> float:
        """Return x of the back-width line."""
        return self.back_width / 2 + 5

    @property
    def chest_line(self) -> float:
        """Return x of the chest-width line; the bust dart lies between it and the centre."""
        return self.width - (self.chest_width + self.dart_width) / 2

    @property
    def chest_level(self) -> float:
        """Return y of the chest level, a third of the way from the bust line up to the neck."""
        return self.bust_line - (self.bust_line - self.front_neck_centre.imag) / 3

    @property
    def blade_level(self) -> float:
        """Return y of the shoulder-blade level, half way down the back armhole."""
        return (self.shoulder_level + self.bust_line) / 2

    @property
    def armhole_width(self) -> float:
        """Return the width of the armhole at the bust line."""
        return self.chest_line - self.back_line

    @property
    def underarm(self) -> Point:
        """Return the underarm point, midway over the armhole on the bust line."""
        return complex((self.back_line + self.chest_line) / 2, self.bust_line)

    # --- neck and shoulders -----------------------------------------------------------------------

    @property
    def back_neck_point(self) -> Point:
        """Return the back neck point."""
        return complex(self.neck / 5 - 2, TOP)

    @property
    def front_neck_point(self) -> Point:
        """Return the front neck point."""
        return complex(self.width - (self.neck / 5 - 7), TOP)

    @property
    def front_neck_centre(self) -> Point:
        """Return the front neck at the centre."""
        return complex(self.width, TOP + self.neck / 5 - 2)

    @property
    def back_shoulder_point(self) -> Point:
        """Return the back shoulder point; the shoulder here holds its open dart."""
        drop = self.shoulder_level - TOP
        run = math.sqrt((self.shoulder + BACK_DART_WIDTH) ** 2 - drop**2)
        return self.back_neck_point + complex(run, drop)

    @property
    def front_shoulder_point(self) -> Point:
        """Return the front shoulder point, 15 mm below the back one."""
        start, level = self.dart_beside_neck, self.shoulder_level + _FRONT_SHOULDER_LOWER
        run = math.sqrt(self.shoulder**2 - (level - start.imag) ** 2)
        return complex(start.real - run, level)

    # --- bust dart --------------------------------------------------------------------------------

    @property
    def dart_width(self) -> float:
        """Return the width of the bust dart at the neck: 70 at a bust of 880, 6 for each 40."""
        return 70.0 + 0.15 * (self.bust - 880.0)

    @property
    def bust_point(self) -> Point:
        """Return the bust point, midway between centre and chest width, below the bust line."""
        return complex((self.width + self.chest_line) / 2, self.bust_line + _BELOW_BUST_LINE)

    @property
    def dart_turn(self) -> complex:
        """Return the rotation about the bust point that opens the bust dart."""
        leg = abs(self.front_neck_point - self.bust_point)
        return cmath.rect(1.0, -2 * math.asin(self.dart_width / 2 / leg))

    @property
    def dart_beside_neck(self) -> Point:
        """Return the other end of the bust dart, as it is drafted beside the neck point."""
        return self.bust_point + (self.front_neck_point - self.bust_point) * self.dart_turn

    # --- waist ------------------------------------------------------------------------------------

    @property
    def waist_reduction(self) -> float:
        """Return what half the block must lose from bust to waist."""
        return self.width - (self.waist / 2 + _WAIST_EASE)

    @property
    def waist_shares(self) -> WaistShares:
        """Return how the waist reduction is shared out."""
        return shared_out(self.waist_reduction)
