"""rename-piece: give a piece a name of the maker's own."""

from trueup.geometry.calling.own_names import by_own_names, own_name, renamed
from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, name, require_new_name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.side import sided
from trueup.geometry.said import said
from trueup.geometry.units import Unit


@kind("rename-piece")
class RenamePiece(Change):
    """Give a piece a name of the maker's own: the front of a wrap is called its over-front.

    On the table, in its seams, on sheets and in whatever is said of it the piece has that name. It
    keeps its own name beside: what was written for the front by steps before or after, by a
    correction of what the pattern derives from, or of a garment cut before, still finds it, and
    arrives. Its own name is not free for another piece. Renamed once more, or by its own name
    again, it is what it was.

    A piece that left and right have alike is called so on both; where they differ, the piece of one
    side can have a name by itself. A piece that was cut apart has no name on the table to give: its
    parts are renamed, each by itself.
    """

    only_calls = True
    phrases = ("rename the piece",)

    piece: str = name("piece that is renamed", of="piece")
    to: str = free_text("what it is called from now on, such as over-front")

    def __post_init__(self) -> None:
        require_new_name("to", self.to)

    def carried_out(self, draft: Draft) -> Draft:
        told = sided(self.piece, self.side)
        parted = {each.shared_name for each in by_own_names(draft).pieces if each.worn}
        if own_name(draft, told) in parted:
            return renamed(draft, told, self.to)
        piece = draft.piece(told if draft.has_piece(told) else self.piece)
        if self.side and piece.worn is None:
            raise DoesNotFit(said("alike-on-both", piece=piece.name), said("rename-on-both"))
        parts = draft.parts_of(told)
        if len(parts) > 1:
            names = ", ".join(part.name for part in parts)
            raise DoesNotFit(said("is-cut-apart", parts=names), said("name-a-part"))
        return renamed(draft, told, self.to)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()

    def in_words(self, unit: Unit) -> str:  # noqa: ARG002
        return f"call the {sided(self.piece, self.side)} {self.to}"
