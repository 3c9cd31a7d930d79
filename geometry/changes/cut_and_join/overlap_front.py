"""overlap-front: let a front go past its centre, over the other one."""

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import flag, length, name, position
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.fronts.overlap import Overlap, overlapped
from trueup.geometry.redrawing.fronts.past_centre import FRONT_EDGE, overlap_name, without_gone
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length


@kind("overlap-front")
class OverlapFront(Change):
    """Let a front go past its centre and over the other one: a wrap, an asymmetric closing.

    Its new edge begins at a place on the neck, or on the shoulder where the neck is to go, and ends
    so far past the centre at the hem. The place lies on the half itself, as on a wrap that crosses
    below it, or `beyond` the centre on the other half: then the neck line goes on past the centre
    as an edge of its own. What lies past the centre is cut as the other half is, with the darts
    that lie in it whole. The edge is straight, or bows out by an amount. The centre is marked:
    there the front lies on the centre of the other one.

    With a side, only the front of that side goes past the centre; the other stays as it is, and is
    opened by a step of its own. A piece on the fold becomes a pair. Lines of the half itself stay
    and keep their names, so that a correction of them arrives; what is drafted to the neck as it
    goes on past the centre names both, as 'back.neck front.neck front.overlap-neck'.
    """

    phrases = ("let the front overlap",)

    piece: str = name("piece that goes past its centre", "front", of="piece")
    by: float = length("how far past the centre its edge ends, along the hem", low=1, high=1000)
    starts: str = name("edge on which the new edge begins, such as neck or shoulder", "neck")
    at: Position = position("where on that edge", on="starts")
    beyond: bool = flag("that place lies on the other half, beyond the centre")
    curve: float = length("how far the edge bows out", 0.0, low=-200, high=200)

    def carried_out(self, draft: Draft) -> Draft:
        piece = draft.piece(self.piece)
        centre = self._centre(piece)
        for taken in (FRONT_EDGE, *map(overlap_name, piece.edge_names)):
            if taken in piece.edge_names:
                raise DoesNotFit(said("name-is-taken", name=taken), said("leave-as-is"))
        to = Overlap(centre, self.starts, self.at, self.beyond, self.by, self.curve)
        changed = overlapped(piece, to)
        return without_gone(draft.with_pieces(changed), piece, changed)

    def place(self, draft: Draft) -> tuple[str, str]:
        if not draft.has_piece(self.piece):
            return self.piece, ""
        return self.piece, draft.piece(self.piece).fold or "centre"

    def _centre(self, piece: Piece) -> str:
        return piece.fold or piece.edge("centre").name

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.piece}.{FRONT_EDGE}",)

    def in_words(self, unit: Unit) -> str:
        by = format_length(self.by, unit)
        beyond = " of the other half" if self.beyond else ""
        side = f" on the {self.side}" if self.side else ""
        begins = f"beginning {self.at.in_words(unit)} on the {self.starts}"
        return f"let the {self.piece} go {by} past the centre, {begins}{beyond}{side}"
