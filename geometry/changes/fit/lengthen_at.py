"""lengthen-at: lengthen or shorten pieces at a level, across the whole of them."""

from typing import ClassVar

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import Most, length, name
from trueup.geometry.changes.wording import piece_in_words
from trueup.geometry.pieces.bodice import BACK, BODICE, FRONT
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.fitting.at_level import spread_at
from trueup.geometry.redrawing.sleeves.sleeve import SLEEVE
from trueup.geometry.units import Unit, format_length


@kind("lengthen-at")
class LengthenAt(ByAmount):
    """Lengthen pieces where the body is longer: slashed straight across at a level and spread.

    All that lies below the slash goes down by the amount; a negative one folds a strip out, and all
    goes up. It is for a body that is long or short there, while `lengthen` only moves the hem. The
    slash lies at a level of the body, or so far `below` it; front and back are slashed alike unless
    one is named, so that what is sewn still matches. Lines that the slash crosses are drawn fair,
    straight ones straight between their ends; levels, notches and the grainline go along with their
    paper. A dart that is crossed lengthwise, as one that opens at the waist, becomes longer and
    keeps its intake. One that lies athwart is to be turned away first.

    A slash above the underarm lengthens the armhole, and a sleeve has to follow. 13 mm to 25 mm are
    usual in one place (common practice, no source); a skirt is slashed 6 in below the hip (The New
    Dressmaker, 1921).
    """

    about = "side"
    leaves_cloth: ClassVar[bool] = True
    fair: ClassVar[bool] = True
    phrases = ("lengthen at a level", "shorten at a level")

    by: float = length(
        "how much longer they become there", low=-150, high=300, zero=False, most=Most(50)
    )
    level: str = name("level of the body at which they are slashed, such as waist or elbow")
    below: float = length("how far below the level the slash lies", 0.0, low=-400, high=1000)
    piece: str = name(
        "what is slashed, also the name of any other piece",
        BODICE,
        choices=(BODICE, FRONT, BACK, SLEEVE),
        of="piece",
    )

    def wanted(self, draft: Draft) -> float:
        for piece in self.pieces(draft):
            piece.level(self.level)
        return self.by

    def on(self, piece: Piece, by: float) -> Piece:
        return spread_at(piece, piece.level(self.level).y + self.below, by)

    def in_words(self, unit: Unit) -> str:
        way = "lengthen" if self.by > 0 else "shorten"
        by, below = format_length(abs(self.by), unit), format_length(abs(self.below), unit)
        beside = f"{below} {'below' if self.below > 0 else 'above'} " if self.below else "at "
        side = f" on the {self.side}" if self.side else ""
        return f"{way} {piece_in_words(self.piece)} {beside}the {self.level} by {by}{side}"

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return tuple(
            f"{piece.name}.{edge.name}"
            for piece in self.pieces(draft)
            for edge in piece.edges
            if edge.name in _crossed(piece, piece.level(self.level).y + self.below)
        )


def _crossed(piece: Piece, y: float) -> tuple[str, ...]:
    """Return the names of the edges that pass a level: they are what becomes longer."""
    return tuple(
        edge.name for edge in piece.edges if (edge.start.imag - y) * (edge.end.imag - y) < 0
    )
