"""add-placket: open a front on the fold with a placket that is folded from the piece itself."""

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
from trueup.geometry.units import Unit, format_length

STITCHING = "placket-stitching"
_LEAST_BESIDE = 20.0


@kind("add-placket")
class AddPlacket(Change):
    """Open a front that lay on the fold with a shirt placket, folded from the piece itself.

    The band lies half on either side of the centre, where the buttons are: the extension beyond
    the centre is half its width. Give its width, or the button it is for: each half is then as wide
    as that button takes. Beyond the edge of the opening the band is turned back once, with 10 mm to
    turn in (common practice, no source), its ends cut as the mirror image of what it is turned
    on. The edge of the opening and the line of stitches that
    holds the band are marked. Buttonholes are placed on it with `place-buttons`, upright.
    """

    phrases = ("add a placket",)

    piece: str = name("piece that is opened at its fold", of="piece")
    width: float | None = length("width of the band", None, low=10, high=120)
    button: float | None = length("diameter of the button it is for, instead", None, low=5, high=40)
    turned_in: float = length("turned in where the band ends inside", 10.0, low=0, high=40)

    def __post_init__(self) -> None:
        require_one_of(self, "width", "button")

    @property
    def _half(self) -> float:
        return extension_for(self.button) if self.button else (self.width or 0.0) / 2

    def carried_out(self, draft: Draft) -> Draft:
        piece = draft.piece(self.piece)
        if piece.fold is None:
            raise DoesNotFit(said("on-no-fold"), said("leave-as-is"))
        edge = piece.fold
        least = min(other.length for other in piece.neighbours(edge))
        if least < self._half + _LEAST_BESIDE:
            reason = said("no-room-for-band", length=least)
            raise DoesNotFit(reason, said("narrower"), edge=edge)
        beyond = self._half + 2 * self._half + self.turned_in
        opened = allowed(replace(piece, fold=None), {edge: beyond})
        cut = draft.with_pieces(turned_back(opened, edge, self._half))
        return with_new_marks(
            cut,
            self.piece,
            InnerMark(OPENING_EDGE, Purpose.FOLD, BesideEdge(edge, -self._half)),
            InnerMark(STITCHING, Purpose.STITCH, BesideEdge(edge, self._half)),
        )

    def place(self, draft: Draft) -> tuple[str, str]:
        fold = draft.piece(self.piece).fold if draft.has_piece(self.piece) else None
        return self.piece, fold or ""

    def meant(self, draft: Draft) -> tuple[str, ...]:
        fold = draft.piece(self.piece).fold
        if not fold:
            return ()
        marks = (mark_measures(self.piece, name)[1] for name in (OPENING_EDGE, STITCHING))
        return (allowance_measure(self.piece, fold), *marks)

    def in_words(self, unit: Unit) -> str:
        side = f" on the {self.side}" if self.side else ""
        width = format_length(2 * self._half, unit)
        return f"add a placket of {width} to the {self.piece}{side}"
