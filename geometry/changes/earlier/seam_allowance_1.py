"""seam-allowance, version 1: of a piece, also the edge at which it was opened."""

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.changes.parameters import require_one_of
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.measuring.measures import allowance_measure
from trueup.geometry.pieces.allowances import HEM, allowed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length


@kind("seam-allowance")
class FirstSeamAllowance(Change):
    """Say how much cloth is cut outside a seam line, so that it can be sewn, and let out later.

    Give one edge, or a piece for all its edges but the fold and the hem. Nought takes the allowance
    off, for an edge that is bound. The seam lines stay as they are.
    """

    phrases = ("set the seam allowance",)

    edge: str | None = name("full name of one edge, such as front.side", None, of="edge")
    piece: str | None = name("piece whose seams all get it, but not fold and hem", None, of="piece")
    by: float = length("width of the allowance", low=0, high=200)

    def __post_init__(self) -> None:
        require_one_of(self, "edge", "piece")

    def carried_out(self, draft: Draft) -> Draft:
        piece, edges = self._place(draft)
        return draft.with_pieces(allowed(draft.piece(piece), dict.fromkeys(edges, self.by)))

    def left_out(self, piece: Piece) -> tuple[str | None, ...]:
        """Return the edges that keep what they have where all of a piece are given it."""
        return piece.fold, HEM

    def _place(self, draft: Draft) -> tuple[str, tuple[str, ...]]:
        """Return the piece and the edges that get the allowance."""
        if self.edge is None:
            piece = draft.piece(self.piece or "")
            left_out = self.left_out(piece)
            return piece.name, tuple(n for n in piece.edge_names if n not in left_out)
        of, edge = draft.split_edge_name(self.edge)
        if draft.piece(of).fold == edge:
            raise DoesNotFit(said("on-fold"), said("name-another-edge"))
        return of, (edge,)

    def in_words(self, unit: Unit) -> str:
        side = f" on the {self.side}" if self.side else ""
        where = self.edge or f"the {self.piece}"
        if not self.by:
            return f"take the seam allowance off {where}{side}"
        return f"give {where} a seam allowance of {format_length(self.by, unit)}{side}"

    def meant(self, draft: Draft) -> tuple[str, ...]:
        piece, edges = self._place(draft)
        return tuple(allowance_measure(piece, edge) for edge in edges)
