"""cut-apart: cut a piece in two along a style line."""

from typing import ClassVar

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, length, name, position, require_new_name
from trueup.geometry.cuts.cutting import StyleLine, cut_in_two, with_cut
from trueup.geometry.cuts.naming import names_offered
from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.units import Unit


@kind("cut-apart")
class CutApart(Change):
    """Cut a piece in two along a style line, to be sewn together along it again.

    The line runs from a place on one edge to a place on another, straight, or along the legs of the
    darts it runs through: what they take in is then taken in by the seam (a princess line, a yoke,
    a sleeve of two pieces). Nothing else changes: the lines that it interrupts go on across it, and
    the piece as a whole is still told of by its name. A step that names the whole is made on it as
    it is sewn, and comes to both parts; one that names a part is made on that part alone.

    A pleat goes with the part in which it lies; a line that would run through one, or leave no room
    for its cloth, is refused.

    Where the line is drawn round at a dart inside the piece, the seam takes in less there than the
    dart did: the wider the dart and the rounder the line, the less; at a waist dart of 18 mm drawn
    round by 25 mm, 15 mm. What it takes in is the dart's intake from then on, and is shown.

    An edge that is sewn to the line of the other part has the allowance of the edge on which the
    line begins. Both parts are notched where the line turns.
    """

    of_parts: ClassVar[bool] = True
    phrases = ("cut apart along a style line",)

    piece: str = name("piece that is cut in two", of="piece")
    begins: str = name("edge of the piece on which the line begins, such as armhole")
    ends: str = name("edge on which it ends, such as hem")
    at: Position | None = position(
        "where on that edge it begins; left out where a dart says so", None, on="begins"
    )
    ends_at: Position | None = position(
        "where it ends; left out where a dart says so", None, on="ends"
    )
    through: str = free_text(
        "darts that it runs through, from its beginning, such as 'bust waist'", ""
    )
    rounded: float = length(
        "how far to either side of a dart's point the line is drawn round", 15.0, low=0, high=100
    )
    line: str = free_text("what the line is called", "style-line")
    parts: str = free_text(
        "what the two parts are called, the one with the centre or the upper one first; "
        "such as 'front-centre front-side'",
        "",
    )

    def __post_init__(self) -> None:
        for field in ("line", "parts"):
            for word in str(getattr(self, field)).split():
                require_new_name(field, word)
        if len(self.line.split()) != 1:
            raise BadParameter("line", self.line, said("write-name"))
        if self.parts and len(set(self.parts.split())) != 2:
            raise BadParameter("parts", self.parts, said("two-names"))

    def in_words(self, unit: Unit) -> str:
        begins = _way("from", self.begins, self.at, unit)
        ends = _way("to", self.ends, self.ends_at, unit)
        along = [f"along {' and '.join(self.through.split())}"] if self.through else []
        where = [f"on the {self.side}"] if self.side else []
        of = f"cut the {self.piece} apart"
        return " ".join([of, begins, ends, *along, f"({self.line})", *where])

    def carried_out(self, draft: Draft) -> Draft:
        piece = self._uncut(draft)
        line = StyleLine(
            self.line,
            self.begins,
            self.ends,
            self.at,
            self.ends_at,
            tuple(self.through.split()),
            self.rounded,
        )
        if self.line in (*piece.edge_names, *piece.dart_names):
            raise DoesNotFit(said("name-is-taken", name=self.line), said("another-name"))
        cut, parts = cut_in_two(piece, line)
        names = names_offered(cut, parts, tuple(self.parts.split()))
        taken = [name for name in names if draft.has_piece(name)]
        if taken:
            raise DoesNotFit(said("name-is-taken", name=taken[0]), said("another-name"))
        return with_cut(draft, cut, parts, names)

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        return self.piece, self.begins

    def _uncut(self, draft: Draft) -> Piece:
        parts = draft.parts_of(self.piece)
        if len(parts) > 1:
            names = ", ".join(part.name for part in parts)
            raise DoesNotFit(said("is-cut-apart", parts=names), said("name-a-part"))
        return parts[0]

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        known = draft.piece(self.piece).dart_names
        return tuple(
            f"{self.piece}.{dart}.intake" for dart in self.through.split() if dart in known
        )

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()


def _way(which: str, edge: str, at: Position | None, unit: Unit) -> str:
    place = "" if at is None else f", {at.in_words(unit)},"
    return f"{which} the {edge}{place}"
