"""drop-piece: leave a piece out of a pattern."""

from typing import ClassVar

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.said import said


@kind("drop-piece")
class DropPiece(Change):
    """Leave a piece out of a pattern, with the seams that sew it: the sleeve of a sleeveless dress.

    Nothing else changes. What a correction means on a piece that was left out is lost here, and
    says so. A piece that was cut apart goes with its parts; one of them cannot go by itself.
    """

    phrases = ("leave out the piece",)
    of_parts: ClassVar[bool] = True

    piece: str = name("piece that is left out", of="piece")

    def carried_out(self, draft: Draft) -> Draft:
        gone = {part.name for part in draft.parts_of(self.piece)}
        whole = next((cut.whole.name for cut in draft.cuts if self.piece in cut.parts), None)
        if whole:
            raise DoesNotFit(said("is-a-part", whole=whole), said("name-the-whole"))
        left = [name for name in draft.piece_names if name not in gone]
        if not left:
            raise DoesNotFit(said("last-piece"), said("leave-it-there"))
        return draft.only(left)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()
