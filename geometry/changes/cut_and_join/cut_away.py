"""cut-away: cut a piece off along a line, and leave out what lies beyond it."""

from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, length, name, position, require_new_name
from trueup.geometry.cuts.cutting import StyleLine, cut_in_two
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.following.redrafting import lines_of
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.units import Unit


@kind("cut-away")
class CutAway(Change):
    """Cut a piece off along a line, and leave out what lies beyond it: the upper edge of a
    strapless bodice, a deep back, a cropped top.

    The line runs from a place on one edge to a place on another, straight, or along the legs of the
    darts it runs through. The part that has the edge `keep` stays and keeps the piece's name; the
    line is its new edge. Edges that were cut keep their names, and what remains of them is sewn as
    before. The seams of an edge that is gone go with it: what a correction means there is lost on
    this pattern, and says so.
    """

    phrases = ("cut off along a line",)

    piece: str = name("piece that is cut off", of="piece")
    begins: str = name("edge of the piece on which the line begins, such as armhole")
    ends: str = name("edge on which it ends, such as centre")
    keep: str = name("an edge of the part that stays, such as hem")
    at: Position | None = position(
        "where on that edge it begins; left out where a dart says so", None, on="begins"
    )
    ends_at: Position | None = position(
        "where it ends; left out where a dart says so", None, on="ends"
    )
    through: str = free_text("darts that it runs through, from its beginning", "")
    rounded: float = length(
        "how far to either side of a dart's point the line is drawn round", 15.0, low=0, high=100
    )
    line: str = free_text("what the new edge is called", "top-edge")

    def __post_init__(self) -> None:
        require_new_name("line", self.line)

    def carried_out(self, draft: Draft) -> Draft:
        piece = draft.piece(self.piece)
        whole = next((cut.whole.name for cut in draft.cuts if self.piece in cut.parts), None)
        if whole:
            raise DoesNotFit(said("is-a-part", whole=whole), said("change-before-cut"))
        if self.line in (*piece.edge_names, *piece.dart_names):
            raise DoesNotFit(said("name-is-taken", name=self.line), said("another-name"))
        piece.edge(self.keep)
        through = tuple(self.through.split())
        style = StyleLine(
            self.line, self.begins, self.ends, self.at, self.ends_at, through, self.rounded
        )
        _, parts = cut_in_two(piece, style)
        having = [part for part in parts if self.keep in part.edge_names]
        if len(having) > 1:
            raise DoesNotFit(said("on-both-parts", edge=self.keep), said("name-another-edge"))
        # The line is notched to be sewn to its other half, which is not there.
        notches = tuple(notch for notch in having[0].notches if notch.edge != self.line)
        return _without_the_rest(draft, replace(having[0], name=piece.name, notches=notches))

    def place(self, draft: Draft) -> tuple[str, str]:  # noqa: ARG002
        return self.piece, self.begins

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()

    def in_words(self, unit: Unit) -> str:
        places = [f"from the {self.begins}", f"to the {self.ends}"]
        for k, at in enumerate((self.at, self.ends_at)):
            places[k] += f", {at.in_words(unit)}," if at else ""
        where = [f"on the {self.side}"] if self.side else []
        return " ".join([f"cut the {self.piece} off", *places, f"keeping its {self.keep}", *where])


def _without_the_rest(draft: Draft, left: Piece) -> Draft:
    """Return a draft in which of a piece only this part is left, and what can no longer be sewn
    is not.

    Raises DoesNotFit where another piece is drafted to an edge that is gone.
    """
    gone = {*draft.piece(left.name).edge_names} - {*left.edge_names}
    lines = {f"{left.name}.{edge}" for edge in gone}
    for to in draft.drafted:
        if lost := lines.intersection(lines_of(to)):
            reason = said("drafted-to-it", piece=to.piece, line=min(lost))
            raise DoesNotFit(reason, said("drop-it-first", piece=to.piece))
    corners = {edge.starts_at for edge in left.edges}
    return replace(
        draft.with_pieces(left),
        seams=tuple(s for s in draft.seams if not lines.intersection(map(str, s.runs))),
        joins=tuple(
            join
            for join in draft.joins
            if all(
                piece != left.name or (edge in left.edge_names and corner in corners)
                for piece, edge, corner in (join.first, join.second)
            )
        ),
    )
