"""lower-armhole: drop the underarm down the side seam, front and back alike."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length
from trueup.geometry.measuring.measures import CAP_EASE
from trueup.geometry.pieces.bodice import bodice_names
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.move_corner import end_carried, start_cut, start_motion


@kind("lower-armhole", version=3, unfair=2, unfinished=1)
class LowerArmhole(ByAmount):
    """Drop the underarm down the side seam, on front and back by the same amount.

    The side seams grow shorter by exactly as much. The armhole is redrawn down to the new underarm
    and meets the side at the angle it had; the shoulder point stays. It grows longer, so a sleeve
    set into it loses cap ease by as much. A negative amount raises the underarm: the side seam is
    drawn on straight.
    """

    about = "armhole"
    fair = True
    phrases = ("lower the armhole", "raise the armhole")

    by: float = length("how far the underarm is lowered", low=-120, high=200, zero=False)

    def on(self, piece: Piece, by: float) -> Piece:
        old = piece.edge("side")
        side = start_cut(old, by)
        armhole = end_carried(piece.edge("armhole"), start_motion(old, side), side.start)
        return piece.with_edges(armhole, side)

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return tuple(f"{name}.side" for name in bodice_names(draft))

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        follow = ("armhole", "underarm-depth")
        return (*(f"{n}.{measure}" for n in bodice_names(draft) for measure in follow), CAP_EASE)
