"""open-fold: give a piece that lay on the fold a seam there."""

from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.measuring.measures import allowance_measure
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.draft import Draft, Run, Seam
from trueup.geometry.said import said


@kind("open-fold")
class OpenFold(Change):
    """Give a piece that lay on the fold of the cloth a seam there: it becomes a pair.

    Both halves are sewn to each other along what was the fold, and the seam is stated; it is cut
    with an allowance. No line moves: from here on the centre can be shaped like any other seam. The
    reverse is close-fold; a front that buttons is opened with open-front.
    """

    phrases = ("open the fold",)

    piece: str = name("piece that lies on the fold", of="piece")
    by: float = length("seam allowance there", 15.0, low=0, high=150)

    def __post_init__(self) -> None:
        if self.side:
            raise BadParameter("side", self.side, said("fold-is-of-both"))

    def carried_out(self, draft: Draft) -> Draft:
        piece = draft.piece(self.piece)
        if piece.fold is None:
            raise DoesNotFit(said("on-no-fold"), said("leave-as-is"))
        seam = f"{self.piece}-{piece.fold}"
        if draft.has_seam(seam):
            raise DoesNotFit(said("name-is-taken", name=seam), said("another-name"))
        own = (Run(self.piece, piece.fold),)
        opened = allowed(replace(piece, fold=None), {piece.fold: self.by})
        return replace(draft.with_pieces(opened), seams=(*draft.seams, Seam(seam, own, own)))

    def place(self, draft: Draft) -> tuple[str, str]:
        fold = draft.piece(self.piece).fold if draft.has_piece(self.piece) else None
        return self.piece, fold or ""

    def meant(self, draft: Draft) -> tuple[str, ...]:
        fold = draft.piece(self.piece).fold
        return (allowance_measure(self.piece, fold),) if fold and self.by else ()
