"""flare-hem, version 1: levels stay, also where the underarm points of a sleeve move."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length, name, number
from trueup.geometry.changes.wording import piece_in_words
from trueup.geometry.errors import BadParameter
from trueup.geometry.pieces.bodice import BODICE
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.turning.slashes import HEM
from trueup.geometry.redrawing.turning.strips import strips
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length

_MOST_SLASHES = 12


@kind("flare-hem")
class FirstFlareHem(ByAmount):
    """Slash a piece from its hem and spread the strips, so that the hem becomes wider by an amount.

    The slashes part the hem evenly and run straight up to the edge above, where the cloth stays
    whole: each strip is turned about that point, and all open by the same amount. The hem is drawn
    evenly from strip to strip, keeps the shape it had, and becomes longer by exactly the amount.
    Every other edge keeps its sewn length, to a fifth of a millimetre where a strip was turned on
    it and it is rounded there. The corners keep their angles.

    The strip at the centre stays on the table, on a sleeve the one with the grainline. A slash that
    would run through a dart is refused: turn, release or shorten that first. Flare from a dart is
    made by turning it to the hem and releasing it. Named alone, a sleeve becomes a bell, the lower
    part of a piece that was cut apart a flounce; a piece that was cut down to its hem is flared by
    its parts.
    """

    about = HEM
    fair = True
    leaves_cloth = True
    phrases = ("flare the hem",)

    by: float = length("how much wider the hem of each piece becomes", low=1, high=2000, zero=False)
    slashes: float = number("how many slashes are spread", 3, low=1, high=_MOST_SLASHES)
    piece: str = name("what is flared, front and back alike unless said", BODICE, of="piece")

    def __post_init__(self) -> None:
        if self.slashes != int(self.slashes):
            raise BadParameter("slashes", f"{self.slashes:g}", said("whole-number"))

    def wanted(self, draft: Draft) -> float:
        for piece in self.pieces(draft):
            strips(piece, int(self.slashes))
        return self.by

    def on(self, piece: Piece, by: float) -> Piece:
        return strips(piece, int(self.slashes)).spread(by)

    def in_words(self, unit: Unit) -> str:
        where = f" on the {self.side}" if self.side else ""
        over = f"over {self.slashes:g} slash{'es' if self.slashes > 1 else ''}"
        by = format_length(self.by, unit)
        return f"flare the hem of {piece_in_words(self.piece)} by {by} {over}{where}"

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return tuple(f"{piece.name}.{HEM}" for piece in self.pieces(draft))
