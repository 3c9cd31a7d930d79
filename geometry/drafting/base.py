"""What every drafting system has: the body measurements it asks for, and a pure function."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from trueup.geometry.errors import BadParameter, NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.said import said


@dataclass(frozen=True)
class BodyMeasurement:
    """One body measurement a system asks for: name, how to take it, and its sane range in mm.

    `standard` is what ISO 8559 calls it, where it does.
    """

    name: str
    taken: str
    low: float
    high: float
    standard: str = ""

    @property
    def help(self) -> str:
        """Return how to take it, and its name in ISO 8559."""
        return f"{self.taken} (ISO 8559: {self.standard})" if self.standard else self.taken

    def checked(self, value: float) -> float:
        """Return the measurement in mm; raises BadParameter for one no body has."""
        if not (math.isfinite(value) and self.low <= value <= self.high):
            between = said("between", low=self.low, high=self.high)
            raise BadParameter(self.name, said("length", mm=value), between)
        return float(value)


@dataclass(frozen=True)
class DraftingSystem:
    """A way to draft a block from body measurements.

    `draw` takes every measurement by name, in mm and within its range, and returns the draft; it
    raises BadParameter when the measurements contradict one another.
    """

    name: str
    summary: str
    measurements: tuple[BodyMeasurement, ...]
    draw: Callable[[Mapping[str, float]], Draft]

    def draft(self, body: Mapping[str, float]) -> Draft:
        """Return the block for a body, its measurements by name in mm.

        Raises BadParameter for a measurement that is missing, absurd or at odds with the others,
        NoSuchName for one the system does not ask for.
        """
        known = tuple(measurement.name for measurement in self.measurements)
        for given in body:
            if given not in known:
                raise NoSuchName("body measurement", given, self.name, known)
        return self.draw({m.name: self._taken(m, body) for m in self.measurements})

    def _taken(self, measurement: BodyMeasurement, body: Mapping[str, float]) -> float:
        if measurement.name not in body:
            remedy = said("system-needs", system=self.name, help=measurement.help)
            raise BadParameter(measurement.name, "left out", remedy)
        return measurement.checked(body[measurement.name])
