"""widen-sleeve: move both sides of the sleeve out, at the biceps, at the hem, or at both."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.earlier.widen_sleeve_1 import FirstWidenSleeve, require_width
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.measuring.gathers import gathered
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.sleeves.cap_ends import cap_at_seams
from trueup.geometry.redrawing.sleeves.sleeve import SLEEVE, raglan_widened
from trueup.geometry.said import said


@kind("widen-sleeve", version=2)
class WidenSleeve(FirstWidenSleeve):
    """Widen the sleeve by an amount at the biceps, both sides alike; a negative amount narrows it.

    The crown keeps its height, the hem its width unless `hem` says how much wider that becomes in
    all. The cap grows longer with the width and holds more ease; it still runs on smoothly across
    the sleeve seam. Cloth that is to be gathered into the armhole is given as `gathers`: the
    armhole seam then takes as much more ease, and asks for as much of it as the cap gained.

    Of a raglan sleeve, what is left of the cap grows longer to either side, and the raglan seams
    with it on the sleeve alone: so it follows a bodice that was widened or whose armhole was
    lowered.
    """

    smooth = True

    def carried_out(self, draft: Draft) -> Draft:
        sleeve = draft.piece(SLEEVE)
        if not self._is_raglan(sleeve):
            return super().carried_out(draft)
        if self.gathers:
            raise DoesNotFit(said("no-cap-seam"), said("leave-gathers-out"), SLEEVE, "cap-front")
        front, back = cap_at_seams(sleeve)
        require_width("biceps", abs(back.end - front.start), self.by)
        require_width("hem", abs(sleeve.edge("hem").end - sleeve.edge("hem").start), self.hem)
        return ByAmount.carried_out(self, draft)

    def on(self, piece: Piece, by: float) -> Piece:
        if not self._is_raglan(piece):
            return super().on(piece, by)
        at_biceps, at_hem = (by, self.hem) if self._is_at_biceps else (0.0, by)
        return raglan_widened(piece, at_biceps / 2, at_hem / 2)

    def _is_raglan(self, sleeve: Piece) -> bool:
        return "cap-front" in sleeve.edge_names and "cap" not in sleeve.edge_names

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        if self._is_raglan(draft.piece(SLEEVE)):
            return (f"{SLEEVE}.cap-front", f"{SLEEVE}.cap-back") if self.by else ()
        return super().knock_on(draft)

    def with_gathers(self, before: Draft, after: Draft) -> Draft:
        return gathered(before, after, self.gathers)
