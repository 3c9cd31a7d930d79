"""widen-sleeve: move both sides of the sleeve out, at the biceps, at the hem, or at both."""

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.parameters import length
from trueup.geometry.changes.sound import require_simple
from trueup.geometry.errors import BadParameter, CannotChange
from trueup.geometry.measuring.gathers import gathered
from trueup.geometry.measuring.measures import CAP_EASE
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.redrawing.largest_amount import or_furthest
from trueup.geometry.redrawing.sleeve import SLEEVE, recut

_NARROWEST = 0.4
"""A sleeve keeps at least this share of its width: below it no arm goes in."""


@kind("widen-sleeve", version=2)
class WidenSleeve(Change):
    """Widen the sleeve by an amount at the biceps, both sides alike; a negative amount narrows it.

    The crown keeps its height, the hem its width unless `hem` says how much wider that becomes in
    all. The cap grows longer with the width and holds more ease; it still runs on smoothly across
    the sleeve seam. Cloth that is to be gathered into the armhole is given as `gathers`: the
    armhole seam then takes as much more ease, and asks for as much of it as the cap gained.
    """

    phrases = ("widen the sleeve", "narrow the sleeve")

    by: float = length("how much wider the sleeve becomes at the biceps", low=-200, high=600)
    hem: float = length("how much wider the hem becomes", 0.0, low=-300, high=1000)
    gathers: float = length("cloth to be gathered into the armhole", 0.0, low=0, high=600)

    def __post_init__(self) -> None:
        if self.by == 0 and self.hem == 0:
            raise BadParameter("by", "nothing", "widen the sleeve at the biceps or at the hem")

    def apply(self, draft: Draft) -> Draft:
        sleeve = draft.piece(SLEEVE)
        cap, hem = sleeve.edge("cap"), sleeve.edge("hem")
        self._require_width("cap", abs(cap.end - cap.start), self.by)
        self._require_width("hem", abs(hem.end - hem.start), self.hem)

        def attempt(amount: float) -> Draft:
            by, hem_by = (amount, self.hem) if self.by else (0.0, amount)
            changed = recut(sleeve, by / 2, 0.0, hem_by / 2, smooth=True)
            require_simple(self, changed, "cap", amount)
            return draft.with_pieces(changed)

        widened = or_furthest(self.kind, draft, attempt, self.by or self.hem, (SLEEVE, "cap"))
        return gathered(draft, widened, self.gathers)

    def _require_width(self, edge: str, width: float, by: float) -> None:
        if width + by < width * _NARROWEST:
            largest = width * (1 - _NARROWEST)
            raise CannotChange(
                self.kind,
                SLEEVE,
                edge,
                f"it is {width:.1f} mm wide and would lose {-by:g} mm",
                f"it can lose at most {largest:.1f} mm",
                -largest,
            )

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        widened = ((f"{SLEEVE}.biceps-width", self.by), (f"{SLEEVE}.hem", self.hem))
        return tuple(measure for measure, by in widened if by)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{SLEEVE}.cap", CAP_EASE) if self.by else ()
