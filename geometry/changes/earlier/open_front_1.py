"""open-front, version 1: the edge of the opening was marked nowhere."""

from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.measuring.measures import allowance_measure
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.said import said


@kind("open-front")
class FirstOpenFront(Change):
    """Open a piece that lay on the fold, so that it buttons: a pair, with cloth beyond the centre.

    The centre stays where it is, as the line on which the buttons lie. Beyond it lies the extension
    to the edge of the garment, as wide as the button (common practice, no source), and, where it
    is cut on, the facing that is turned in. Both are cut as the allowance of the centre.
    """

    phrases = ("open the piece",)

    piece: str = name("piece that is opened at its fold", of="piece")
    extension: float = length("how far the edge lies beyond the centre", low=0, high=150)
    facing: float = length("how much more is cut on and turned in", 0.0, low=0, high=300)

    def carried_out(self, draft: Draft) -> Draft:
        piece = draft.piece(self.piece)
        if piece.fold is None:
            raise DoesNotFit(said("on-no-fold"), said("leave-as-is"))
        opened = replace(piece, fold=None)
        return draft.with_pieces(allowed(opened, {piece.fold: self.extension + self.facing}))

    def place(self, draft: Draft) -> tuple[str, str]:
        fold = draft.piece(self.piece).fold if draft.has_piece(self.piece) else None
        return self.piece, fold or ""

    def meant(self, draft: Draft) -> tuple[str, ...]:
        fold = draft.piece(self.piece).fold
        return (allowance_measure(self.piece, fold),) if fold else ()
