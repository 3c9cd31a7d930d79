"""raise-cap: raise or lower the crown of the sleeve above its cap line."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.earlier.raise_cap_1 import FirstRaiseCap
from trueup.geometry.measuring.gathers import gathered
from trueup.geometry.pieces.draft import Draft


@kind("raise-cap", version=2)
class RaiseCap(FirstRaiseCap):
    """Raise the crown of the sleeve by an amount; a negative amount lowers it.

    The cap is stretched upwards evenly from the cap line: underarm points, sleeve seams and hem
    stay. A higher cap is longer and holds more ease. Cloth that is to be gathered into the armhole
    is given as `gathers`: the armhole seam then takes as much more ease, and asks for as much of it
    as the cap gained.
    """

    smooth = True

    def with_gathers(self, before: Draft, after: Draft) -> Draft:
        return gathered(before, after, self.gathers)
