"""widen-sleeve: move both sides of the sleeve out, at the biceps, at the hem, or at both."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.earlier.widen_sleeve_1 import FirstWidenSleeve
from trueup.geometry.measuring.gathers import gathered
from trueup.geometry.pieces.draft import Draft


@kind("widen-sleeve", version=2)
class WidenSleeve(FirstWidenSleeve):
    """Widen the sleeve by an amount at the biceps, both sides alike; a negative amount narrows it.

    The crown keeps its height, the hem its width unless `hem` says how much wider that becomes in
    all. The cap grows longer with the width and holds more ease; it still runs on smoothly across
    the sleeve seam. Cloth that is to be gathered into the armhole is given as `gathers`: the
    armhole seam then takes as much more ease, and asks for as much of it as the cap gained.
    """

    smooth = True

    def with_gathers(self, before: Draft, after: Draft) -> Draft:
        return gathered(before, after, self.gathers)
