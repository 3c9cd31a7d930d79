"""round-back: lengthen a back over round shoulder blades, its dart above taking in what opens."""

from typing import ClassVar

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import Most, length, name
from trueup.geometry.errors import NoSuchName
from trueup.geometry.pieces.bodice import BACK
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.darts import find_edge_dart
from trueup.geometry.redrawing.fitting.blades import spread_over_blades
from trueup.geometry.redrawing.fitting.centre_length import half_named


@kind("round-back")
class RoundBack(ByAmount):
    """Lengthen the back at the centre over round shoulder blades, to nothing at the armhole.

    The back is slashed from the centre to the point that the dart of the shoulder or the neck aims
    at, and on to the armhole. Above the slash the paper at the centre goes straight up by the
    amount, so the centre stays a straight line; the paper at the arm turns about the place on the
    armhole, and the dart between the two opens by as much as it turned. The centre grows by exactly
    the amount; neck, shoulder, armhole, side and waist keep their sewn length, the armhole but for
    the drawing fair. A negative amount is for a back that is flat or held erect.

    A back without such a dart is given one first with `add-dart`. Where the dart is to be eased in,
    it is left out afterwards with `release-dart` and `eased`. 6 mm to 13 mm are usual
    (common practice, no source).
    """

    about = "centre"
    fair: ClassVar[bool] = True
    leaves_cloth: ClassVar[bool] = True
    phrases = ("lengthen the back over the blades", "shorten the back over the blades")

    by: float = length(
        "how much longer the centre becomes", low=-40, high=40, zero=False, most=Most(25)
    )
    dart: str = name("dart that takes in what opens", "back.shoulder", of="dart")

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        piece, back = find_edge_dart(draft, self.dart)[0], half_named(draft, BACK)
        if piece is not back:
            there = tuple(f"{back.name}.{each}" for each in back.dart_names)
            raise NoSuchName("dart", self.dart, back.name, there)
        return (back,)

    def on(self, piece: Piece, by: float) -> Piece:
        return spread_over_blades(piece, self.dart.partition(".")[2], by)

    def meant(self, draft: Draft) -> tuple[str, ...]:
        (piece,) = self.pieces(draft)
        return (f"{piece.name}.centre", f"{self.dart}.intake")

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        (piece,) = self.pieces(draft)
        return (f"{piece.name}.armhole",)
