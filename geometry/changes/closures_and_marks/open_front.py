"""open-front: open a piece at its fold, with an extension for buttons and a facing cut on."""

from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.changes.parameters import require_one_of
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.marking.adding import with_new_marks
from trueup.geometry.marking.closures import OPENING_EDGE, extension_for, turned_back
from trueup.geometry.measuring.measures import allowance_measure, mark_measures
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.mark import BesideEdge, InnerMark, Purpose
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT


@kind("open-front", version=2)
class OpenFront(Change):
    """Open a piece that lay on the fold, so that it buttons: a pair, with cloth beyond the centre.

    The centre stays where it is, as the line on which the buttons lie. Beyond it lies the extension
    to the edge of the garment. Give it, or the button it is for: it is then as wide as the button,
    and one and a half times as wide for one of 10 mm or less (as published in lessons of dress
    pattern making). Where it is cut on, the facing that is turned in follows; neck and hem of it
    are cut as the mirror image of what it is turned on. Both are cut as the allowance of the
    centre, and the edge of the opening between them is marked.
    """

    phrases = ("open the piece",)

    piece: str = name("piece that is opened at its fold", of="piece")
    extension: float | None = length(
        "how far the edge lies beyond the centre", None, low=0, high=150
    )
    button: float | None = length("diameter of the button it is for, instead", None, low=3, high=90)
    facing: float = length("how much more is cut on and turned in", 0.0, low=0, high=300)

    def __post_init__(self) -> None:
        require_one_of(self, "extension", "button")

    @property
    def _extension(self) -> float:
        return extension_for(self.button) if self.button else self.extension or 0.0

    def carried_out(self, draft: Draft) -> Draft:
        piece = draft.piece(self.piece)
        if piece.fold is None:
            raise DoesNotFit(said("on-no-fold"), said("leave-as-is"))
        opened = allowed(replace(piece, fold=None), {piece.fold: self._extension + self.facing})
        if self.facing > SAME_POINT:
            opened = turned_back(opened, piece.fold, self._extension)
        cut = draft.with_pieces(opened)
        if self._extension < SAME_POINT:
            return cut
        edge = BesideEdge(piece.fold, -self._extension)
        return with_new_marks(cut, self.piece, InnerMark(OPENING_EDGE, Purpose.FOLD, edge))

    def place(self, draft: Draft) -> tuple[str, str]:
        fold = draft.piece(self.piece).fold if draft.has_piece(self.piece) else None
        return self.piece, fold or ""

    def meant(self, draft: Draft) -> tuple[str, ...]:
        fold = draft.piece(self.piece).fold
        edge = mark_measures(self.piece, OPENING_EDGE)[1:]
        return (allowance_measure(self.piece, fold), *edge) if fold else ()
