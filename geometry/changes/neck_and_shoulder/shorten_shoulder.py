"""shorten-shoulder: bring the shoulder point in along the seam, front and back alike."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length
from trueup.geometry.measuring.measures import CAP_EASE
from trueup.geometry.pieces.bodice import bodice_names
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.drawn_on import shoulder_cut


@kind("shorten-shoulder", version=3, unfair=2, unfinished=1)
class ShortenShoulder(ByAmount):
    """Bring the shoulder point in along the shoulder seam, on front and back by the same amount.

    The armhole is redrawn up to the new shoulder point, fading to nothing at the underarm, and
    meets the shoulder at the angle it had. The neck point and the underarm stay. It comes in far
    down: on a block of bust 88 cm, 10 mm off the shoulder take 8 mm off the width of the front
    40 mm below the shoulder point, 6.5 mm off it 60 mm below and 3 mm 100 mm below. A negative
    amount lengthens: the seam is drawn on straight.
    """

    about = "shoulder"
    fair = True
    phrases = ("shorten the shoulder", "lengthen the shoulder")

    by: float = length("how much shorter each shoulder becomes", low=-150, high=150, zero=False)

    def on(self, piece: Piece, by: float) -> Piece:
        return shoulder_cut(piece, by)

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return tuple(f"{name}.shoulder" for name in bodice_names(draft))

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        return (*(f"{name}.armhole" for name in bodice_names(draft)), CAP_EASE)
