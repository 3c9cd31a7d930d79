"""high-hip: raise front and back at the side over the higher hip."""

from typing import ClassVar

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import Most, length
from trueup.geometry.errors import BadParameter
from trueup.geometry.measuring.measures import seam_measure
from trueup.geometry.pieces.bodice import bodice_names, side_seam_of
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.fitting.side_length import with_hip_higher
from trueup.geometry.said import said


@kind("high-hip")
class HighHip(ByAmount):
    """Give the higher hip its length at the side, front and back alike, to nothing at the centre.

    It is made on one `side` of the body. The waist of a skirt rises at the side by the amount, the
    side drawn on along itself; the hem of a bodice that ends at the waist rises as much, so that
    the two still meet; the hem of a longer one drops there, for the hip takes the cloth up. The
    line is drawn evenly to nothing at the centre, its darts closed meanwhile; the one nearest the
    centre takes in what it gains by running aslant. The side seam matches as it did.

    6 mm to 13 mm are usual (common practice, no source). A hip that stands out, too, is let out
    with `taper-side` on the same side.
    """

    about = "side"
    fair: ClassVar[bool] = True
    leaves_cloth: ClassVar[bool] = True
    phrases = ("raise the side over the hip", "lower the side over the hip")

    by: float = length("how much higher the hip is", low=-40, high=40, zero=False, most=Most(25))

    def __post_init__(self) -> None:
        if self.side is None:
            raise BadParameter("side", "left out", said("say-the-side"))

    def on(self, piece: Piece, by: float) -> Piece:
        return with_hip_higher(piece, by)

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return tuple(f"{name}.side" for name in bodice_names(draft))

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        return (seam_measure(side_seam_of(draft, bodice_names(draft)[0]).name),)
