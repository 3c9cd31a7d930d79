"""shorten-to: cut a sleeve or a piece off so far below one of its levels."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.pieces.bodice import BACK, BODICE, FRONT, bodice_pieces
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.hems.shortened import require_below_waist, shortened
from trueup.geometry.redrawing.sleeves.sleeve import SLEEVE, seams_evened
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_LENGTH
from trueup.geometry.units import Unit, format_length

_HEM = "hem"


@kind("shorten-to")
class ShortenTo(ByAmount):
    """Cut a sleeve or a piece off, so that it ends so far below one of its levels.

    A short sleeve ends 100 mm to 150 mm below the biceps, one to the elbow at it, a three-quarter
    sleeve half way from there to the wrist (common practice, no source). Both edges that meet the
    hem are cut by as much, and the hem keeps its shape and its angles to them, so that it still
    runs on across the seam. Above the level is a negative distance. A piece that is lengthened, or
    shortened, beneath it still ends there; one that ends higher up already is refused.
    """

    about = _HEM
    fair = True
    leaves_cloth = True
    phrases = ("shorten to a length",)

    below: float = length("how far below the level it ends; negative above", low=-600, high=1500)
    level: str = name("level of the piece it is measured from, such as elbow", "biceps")
    piece: str = name("what is cut off", SLEEVE, choices=(SLEEVE, BODICE, FRONT, BACK), of="piece")

    def pieces(self, draft: Draft) -> tuple[Piece, ...]:
        return bodice_pieces(draft) if self.piece == BODICE else (draft.piece(self.piece),)

    def carried_out(self, draft: Draft) -> Draft:
        try:
            return super().carried_out(draft)
        except DoesNotFit as refusal:
            if refusal.largest is None:
                raise
            highest = self.below + self.wanted(draft) - refusal.largest
            possible = said("ends-at-highest", below=highest, level=self.level)
            raise DoesNotFit(
                refusal.reason.also[0], possible, piece=refusal.piece, edge=refusal.edge
            ) from refusal

    def wanted(self, draft: Draft) -> float:
        amounts = [self._amount_on(piece) for piece in self.pieces(draft)]
        return max(amounts)

    def _amount_on(self, piece: Piece) -> float:
        """Return how far the hem comes up, mm; raises DoesNotFit where it would go down."""
        if not piece.has_level(self.level):
            known = " or ".join(level.name for level in piece.levels) or "hem"
            reason = said("no-such-level", piece=piece.name, level=self.level)
            raise DoesNotFit(reason, said("measure-from", levels=known), piece=piece.name)
        by = piece.edge(_HEM).start.imag - piece.level(self.level).y - self.below
        if by < -SAME_LENGTH:
            reason = said("ends-higher", by=-by, level=self.level)
            raise DoesNotFit(reason, said("lengthen-first"), piece=piece.name, edge=_HEM)
        if piece.shared_name != SLEEVE and by > SAME_LENGTH:
            require_below_waist(piece)
        return by

    def made(self, draft: Draft, by: float) -> Draft:
        pieces = self.pieces(draft)
        whole = max(self._amount_on(piece) for piece in pieces)
        cut = (self._cut(piece, self._amount_on(piece) * by / whole) for piece in pieces)
        return draft.with_pieces(*cut)

    def _cut(self, piece: Piece, by: float) -> Piece:
        if by < SAME_LENGTH:
            return piece
        cut = shortened(piece, by)
        return seams_evened(piece, cut) if piece.shared_name == SLEEVE else cut

    def in_words(self, unit: Unit) -> str:
        where = "below" if self.below >= 0 else "above"
        by = format_length(abs(self.below), unit)
        side = f" on the {self.side}" if self.side else ""
        return f"shorten the {self.piece} to {by} {where} the {self.level}{side}"

    @property
    def trues(self) -> bool:
        return True

    def meant(self, draft: Draft) -> tuple[str, ...]:
        found = []
        for piece in self.pieces(draft):
            before, _ = piece.neighbours(_HEM)
            found.append(f"{piece.name}.{before.name}")
        return tuple(found)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        return tuple(f"{piece.name}.{_HEM}" for piece in self.pieces(draft))
