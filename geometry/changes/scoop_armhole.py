"""scoop-armhole: hollow an armhole at a level, leaving its ends where they are."""

from trueup.geometry.changes.base import kind, require_cloth, require_fair, require_simple
from trueup.geometry.changes.earlier.scoop_armhole_1 import FirstScoopArmhole
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.refit import refitted


@kind("scoop-armhole", version=2)
class ScoopArmhole(FirstScoopArmhole):
    """Hollow the armhole by an amount at a level, fading to nothing at shoulder and underarm.

    The armhole grows longer, so a sleeve set into it loses cap ease by as much. A negative amount
    fills the armhole out instead. The nearer the level lies to an end, the less can be hollowed:
    an amount that could only fade in a wave or a tight bend is refused.
    """

    def finished(self, before: Piece, after: Piece, by: float) -> Piece:
        require_simple(self, after, "armhole", by)
        require_cloth(self, before, after, "armhole")
        require_fair(self, before, after, "armhole")
        return refitted(after, "armhole")
