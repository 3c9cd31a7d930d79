"""raise-cap: raise or lower the crown of the sleeve above its cap line."""

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.parameters import length
from trueup.geometry.changes.sound import require_simple
from trueup.geometry.errors import CannotChange
from trueup.geometry.measuring.gathers import gathered
from trueup.geometry.measuring.measures import CAP_EASE
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.sleeve_cap import cap_height
from trueup.geometry.redrawing.largest_amount import or_furthest
from trueup.geometry.redrawing.sleeve import SLEEVE, recut

_LEAST_HEIGHT = 10.0


@kind("raise-cap", version=2)
class RaiseCap(Change):
    """Raise the crown of the sleeve by an amount; a negative amount lowers it.

    The cap is stretched upwards evenly from the cap line: underarm points, sleeve seams and hem
    stay. A higher cap is longer and holds more ease. Cloth that is to be gathered into the armhole
    is given as `gathers`: the armhole seam then takes as much more ease, and asks for as much of it
    as the cap gained.
    """

    phrases = ("raise the sleeve cap", "lower the sleeve cap")

    by: float = length("how much higher the crown becomes", low=-200, high=300, zero=False)
    gathers: float = length("cloth to be gathered into the armhole", 0.0, low=0, high=600)

    def apply(self, draft: Draft) -> Draft:
        sleeve = draft.piece(SLEEVE)

        def attempt(by: float) -> Draft:
            return draft.with_pieces(self._on(sleeve, by))

        raised = or_furthest(self.kind, draft, attempt, self.by, (SLEEVE, "cap"))
        return gathered(draft, raised, self.gathers)

    def _on(self, sleeve: Piece, by: float) -> Piece:
        height = cap_height(sleeve.edge("cap"))
        if height + by < _LEAST_HEIGHT:
            raise CannotChange(
                self.kind,
                SLEEVE,
                "cap",
                f"a crown {height:.1f} mm above the cap line would come too near it",
                "use a smaller amount",
            )
        changed = recut(sleeve, 0.0, by, smooth=True)
        require_simple(self, changed, "cap", by)
        return changed

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{SLEEVE}.cap-height",)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{SLEEVE}.cap", CAP_EASE)
