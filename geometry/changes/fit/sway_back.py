"""sway-back: take out at the centre back waist what folds there, to nothing at the side."""

from typing import ClassVar

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import Most, length
from trueup.geometry.pieces.bodice import BACK
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.darts import edge_measures
from trueup.geometry.redrawing.fitting.centre_length import (
    half_named,
    line_at_waist,
    with_centre_longer,
)


@kind("sway-back")
class SwayBack(ByAmount):
    """Shorten the back at the centre of the waist, to nothing at the side; negative lengthens it.

    It takes out the folds below the waist of a back that is hollow there. It is what a wedge folded
    at the waist does, with the centre kept straight: the centre grows shorter by exactly the
    amount. Of a bodice that ends at the waist the hem rises at the centre, its darts closed
    meanwhile; of a longer one all below the waist goes up with it; of a skirt the waist is lowered
    at the centre. The line is drawn evenly from square at the centre to where it met the side.

    The side and the waist keep their length: the waist dart nearest the centre takes in the
    millimetre or two by which a line is longer that runs aslant.

    6 mm to 13 mm are usual (common practice, no source).
    """

    about = "centre"
    fair: ClassVar[bool] = True
    leaves_cloth: ClassVar[bool] = True
    phrases = ("shorten the centre back at the waist", "lengthen the centre back at the waist")

    by: float = length(
        "how much shorter the centre becomes", low=-40, high=40, zero=False, most=Most(19)
    )

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        return (half_named(draft, BACK),)

    def on(self, piece: Piece, by: float) -> Piece:
        return with_centre_longer(piece, -by)

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return tuple(f"{piece.name}.centre" for piece in self.pieces(draft))

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        (piece,) = self.pieces(draft)
        return edge_measures(draft, piece, line_at_waist(piece))
