"""The frame of the trouser block: levels and widths of front and back, from measurements. mm.

x runs from the crease towards the inseam, y down from the waist.
"""

import math
from dataclasses import dataclass

from trueup.geometry.drafting.trousers.panel import BACK, FRONT, Panel, PanelDart
from trueup.geometry.errors import BadParameter
from trueup.geometry.said import said

_DEPTH_EASE = 10.0
_WAIST_EASE, _FRONT_HIP_EASE, _BACK_HIP_EASE = 5.0, 5.0, 15.0
_KNEE_ABOVE_MIDDLE = 50.0
_NARROWER_IN_FRONT = 20.0
_KNEE_WIDER, _KNEE_OF_HIP = 0.08, 0.54
_BACK_RAISED = 25.0
_LEAST_SHAPING, _MOST_SHAPING, _HIP_ABOVE_CROTCH = 40.0, 460.0, 40.0
_WIDEST_HEM, _LEAST_HEM, _LEAST_RISE, _LEAST_LEG = 0.7, 0.28, 0.21, 0.6
_FRONT_GUIDE, _BACK_GUIDE = 0.045, 0.045
_FRONT_SHARES = {"centre": 1 / 6, "dart": 1 / 3}
_BACK_SHARES = {"centre": 0.4, "dart": 0.2}


@dataclass(frozen=True)
class TrouserFrame:
    """The frame for one body and one width of hem, mm.

    Raises BadParameter when the measurements contradict one another.
    """

    waist: float
    hip: float
    hip_depth: float
    body_rise: float
    inside_leg: float
    trouser_hem: float

    def __post_init__(self) -> None:
        self._require_at_most("waist", self.waist, self.hip - _LEAST_SHAPING)
        self._require_at_least("waist", self.waist, self.hip - _MOST_SHAPING, "hip")
        self._require_at_most("trouser-hem", self.trouser_hem, _WIDEST_HEM * self.hip)
        self._require_at_least("trouser-hem", self.trouser_hem, _LEAST_HEM * self.hip, "hip")
        by_depth = self.hip_depth + _HIP_ABOVE_CROTCH - _DEPTH_EASE
        self._require_at_least("body-rise", self.body_rise, by_depth, "hip-depth")
        self._require_at_least("body-rise", self.body_rise, _LEAST_RISE * self.hip, "hip")
        self._require_at_least("inside-leg", self.inside_leg, _LEAST_LEG * self.hip, "hip")

    def _require_at_most(self, name: str, value: float, most: float) -> None:
        if value > most:
            with_hip = said("at-most-with", name="hip", mm=self.hip, most=math.floor(most))
            raise BadParameter(name, said("length", mm=value), with_hip)

    def _require_at_least(self, name: str, value: float, least: float, other: str) -> None:
        if value < least:
            taken = self.hip if other == "hip" else self.hip_depth
            with_other = said("at-least-with", name=other, mm=taken, least=math.ceil(least))
            raise BadParameter(name, said("length", mm=value), with_other)

    @property
    def crotch_line(self) -> float:
        """Return y of the crotch line: the body rise and a little ease."""
        return self.body_rise + _DEPTH_EASE

    @property
    def hem_line(self) -> float:
        """Return y of the hem."""
        return self.body_rise + self.inside_leg

    @property
    def knee_line(self) -> float:
        """Return y of the knee, a little above the middle of the inside leg."""
        return self.hem_line - self.inside_leg / 2 - _KNEE_ABOVE_MIDDLE

    @property
    def knee(self) -> float:
        """Return the girth of the knee: wider than a narrow hem, as wide as a wide one."""
        wider = self.trouser_hem + _KNEE_WIDER * self.hip
        return max(self.trouser_hem, min(wider, _KNEE_OF_HIP * self.hip))

    @property
    def fork(self) -> float:
        """Return the length of the front fork, and how far the centre lies from the crease."""
        return self.hip / 12

    def front(self) -> Panel:
        """Return the front."""
        shaped = (self.hip - self.waist) / 4
        to_centre = shaped * _FRONT_SHARES["centre"]
        return Panel(
            FRONT,
            levels=(self.hip_depth, self.crotch_line, self.knee_line, self.hem_line),
            centre_waist=complex(self.fork - to_centre, 0.0),
            centre_hip=complex(self.fork, self.hip_depth),
            fork=complex(2 * self.fork, self.crotch_line),
            hip=self.hip / 4 + _FRONT_HIP_EASE,
            waist=self.waist / 4 + _WAIST_EASE,
            knee=self.knee / 2 - _NARROWER_IN_FRONT,
            hem=self.trouser_hem / 2 - _NARROWER_IN_FRONT,
            guide=_FRONT_GUIDE * self.hip,
            darts=(PanelDart("waist", None, shaped * _FRONT_SHARES["dart"], 90.0),),
        )

    def back(self) -> Panel:
        """Return the back, its fork on the crotch line as yet.

        Its centre leans, so that the seat has room when sitting, and is raised at the waist.
        """
        shaped = (self.hip - self.waist) / 4 + _BACK_HIP_EASE - _WAIST_EASE
        to_centre = shaped * _BACK_SHARES["centre"]
        slope = to_centre / (self.hip_depth + _BACK_RAISED)
        at_crotch = self.fork - self.hip / 48
        hip = complex(at_crotch - slope * (self.crotch_line - self.hip_depth), self.hip_depth)
        each = shaped * _BACK_SHARES["dart"]
        return Panel(
            BACK,
            levels=(self.hip_depth, self.crotch_line, self.knee_line, self.hem_line),
            centre_waist=complex(hip.real - to_centre, -_BACK_RAISED),
            centre_hip=hip,
            fork=complex(2 * self.fork + self.hip / 24 + 5, self.crotch_line),
            hip=self.hip / 4 + _BACK_HIP_EASE,
            waist=self.waist / 4 + _WAIST_EASE,
            knee=self.knee / 2 + _NARROWER_IN_FRONT,
            hem=self.trouser_hem / 2 + _NARROWER_IN_FRONT,
            guide=_BACK_GUIDE * self.hip,
            darts=(
                PanelDart("waist", 1 / 3, each, 120.0),
                PanelDart("waist-side", 2 / 3, each, 100.0),
            ),
        )
