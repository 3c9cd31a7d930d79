"""drop-shoulder: draw the shoulder on over the arm, and lower the sleeve cap to meet it there."""

from dataclasses import replace

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length
from trueup.geometry.changes.sleeve.refit_cap import cap_refit
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.measuring.measures import CAP_EASE, CAP_SEAM
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.bodice import bodice_names, bodice_pieces
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.sleeve_cap import cap_height
from trueup.geometry.redrawing.drawn_on import shoulder_cut
from trueup.geometry.redrawing.sleeves.refitting import WIDTH
from trueup.geometry.redrawing.sleeves.sleeve import SLEEVE, recut
from trueup.geometry.said import said

_LEAST_HEIGHT = 10.0


@kind("drop-shoulder")
class DropShoulder(ByAmount):
    """Draw the shoulder on over the arm, and lower the sleeve cap by as much to meet it there.

    Front and back gain the amount at the shoulder point; their armholes are redrawn up to it, at
    the angle they had, and fade to nothing at the underarm, which stays. The cap is lowered by the
    amount, so that shoulder and sleeve together are as long as they were, and made so wide that
    each half holds its share of the ease over its half of the new armhole. The underarm seams stay
    equal, the hem keeps its width. The armhole seam may then hold from nothing to twice that ease.

    A dropped shoulder is 20 mm to 60 mm longer, its cap eased by 10 mm at most (from memory). It
    wants a wider bodice and a lower armhole: make these first, by `add-ease` and `lower-armhole`;
    the farther they go, the farther the shoulder can drop.
    """

    about = "shoulder"
    phrases = ("drop the shoulder",)
    fair = True
    leaves_cloth = True

    by: float = length("how much longer each shoulder becomes, and the cap lower", low=1, high=150)
    ease: float = length("how much longer the cap is than its armhole", 5.0, low=0, high=60)

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        return (*bodice_pieces(draft), draft.piece(SLEEVE))

    def made(self, draft: Draft, by: float) -> Draft:
        dropped = (self._dropped(piece, by) for piece in bodice_pieces(draft))
        lowered = draft.with_pieces(*dropped, self._lowered(draft.piece(SLEEVE), by))
        seam = draft.seam(CAP_SEAM)
        allowed = Band(0.0, 2 * self.ease, seam.allowed.tolerance)
        stated = lowered.with_seam(replace(seam, allowed=allowed, sections=()))
        return stated.with_pieces(cap_refit(stated, self.ease, WIDTH).sleeve)

    def _dropped(self, piece: Piece, by: float) -> Piece:
        try:
            return shoulder_cut(piece, -by)
        except DoesNotFit as refusal:
            raise refusal.at(piece.name) from refusal

    def _lowered(self, sleeve: Piece, by: float) -> Piece:
        height = cap_height(sleeve.edge("cap"))
        if height - by < _LEAST_HEIGHT:
            raise DoesNotFit(said("crown-too-low", height=height), piece=sleeve.name, edge="cap")
        return recut(sleeve, 0.0, -by)

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return (*(f"{name}.shoulder" for name in bodice_names(draft)), f"{SLEEVE}.cap-height")

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        armholes = (f"{name}.armhole" for name in bodice_names(draft))
        return (*armholes, f"{SLEEVE}.biceps-width", f"{SLEEVE}.cap", CAP_EASE)
