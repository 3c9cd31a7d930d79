"""join-parts: put the two parts of a piece that was cut apart together again."""

from typing import ClassVar

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import name
from trueup.geometry.cuts.sewing import joined, require_one
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.said import said


@kind("join-parts")
class JoinParts(Change):
    """Put the two parts of a piece that was cut apart together again, without the seam.

    The piece is one again, as its parts lie together: what the seam took in along its way is a dart
    where the line began, where it ended, and inside the piece where it ran through one; a line that
    took nothing in leaves nothing. Steps made on both, or on one of the parts, stay.
    """

    phrases = ("put the parts of the piece together",)
    of_parts: ClassVar[bool] = True

    piece: str = name("piece that was cut apart", of="piece")

    def carried_out(self, draft: Draft) -> Draft:
        draft.piece(self.piece)
        cut = next((each for each in draft.cuts if each.whole.name == self.piece), None)
        if cut is None:
            raise DoesNotFit(said("is-not-cut"), said("leave-as-is"))
        if cut.second:
            raise DoesNotFit(said("cut-along-two"), said("leave-cut-out"))
        again = [each for each in draft.cuts if each.whole.name in cut.parts]
        if again:
            whole = again[0].whole.name
            raise DoesNotFit(said("part-is-cut", part=whole), said("join-the-part-first"))
        for part in map(draft.piece, cut.parts):
            if {each.name for each in part.pleats} - {each.name for each in cut.whole.pleats}:
                reason = said("part-is-pleated", part=part.name)
                raise DoesNotFit(reason, said("leave-as-is"))
            if part.vents:
                reason = said("part-is-vented", part=part.name)
                raise DoesNotFit(reason, said("leave-as-is"))
        require_one(draft, cut, said("leave-apart"))
        return joined(draft, cut)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()
