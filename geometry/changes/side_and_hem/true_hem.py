"""true-hem: lengthen or shorten a hem at the side so that the side seams walk equal."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.measuring.measures import seam_measure
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.bodice import BACK, FRONT, side_seam_of
from trueup.geometry.pieces.draft import Draft, Seam
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.move_corner import (
    end_cut,
    end_motion,
    evenly,
    start_carried,
    taper,
)
from trueup.geometry.said import said


@kind("true-hem", version=3, unfair=2, unfinished=1)
class TrueHem(ByAmount):
    """Lengthen a hem at the side seam, blended to nothing at the centre, so that the sides match.

    Without an amount, the piece's side becomes as long as the side it is sewn to; with one it
    becomes longer by exactly that, or shorter by a negative amount. The side is drawn on, or cut,
    along itself; the hem, its waist darts closed, meets it at the angle it had, and turns as evenly
    as it can on its way. An amount that so short a hem could only take in a wave is refused. The
    length of the centre stays. Use it after taking in a dart at the side (common practice, no
    source).
    """

    about = "hem"
    fair = True
    phrases = ("true the hem",)

    piece: str = name("piece whose hem is trued", choices=(FRONT, BACK), of="piece")
    by: float | None = length(
        "how much longer the side becomes; what is missing unless given", None, low=-300, high=300
    )

    def wanted(self, draft: Draft) -> float:
        draft.piece(self.piece)
        return true_hem_amount(draft, self.piece) if self.by is None else self.by

    def on(self, piece: Piece, by: float) -> Piece:
        old = piece.edge("side")
        side = end_cut(old, -by)
        fading = evenly if self.fair else taper
        hem = start_carried(piece.edge("hem"), end_motion(old, side), side.end, fading)
        return piece.with_edges(side, hem)

    @property
    def trues(self) -> bool:
        return self.by is None

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.piece}.side",)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        return (seam_measure(side_seam_of(draft, self.piece).name),)


def true_hem_amount(draft: Draft, piece: str) -> float:
    """Return how much longer the side of a piece must become for the side seams to match, mm.

    Where the seam allows some ease, the nearest allowed one is aimed at. Raises NoSuchName when
    the draft lacks the piece or the seam, DoesNotFit when the seam does not sew this piece.
    """
    draft.piece(piece)
    seam = side_seam_of(draft, piece)
    ease = walk(draft, seam).ease
    return -seam.allowed.excess(ease) * _sign(seam, piece)


def _sign(seam: Seam, piece: str) -> float:
    if piece in {run.piece for run in seam.side}:
        return 1.0
    if piece in {run.piece for run in seam.mate}:
        return -1.0
    reason, possible = said("not-sewn-by", seam=seam.name), said("give-amount")
    raise DoesNotFit(reason, possible, piece=piece, edge="side")
