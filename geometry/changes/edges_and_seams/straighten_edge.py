"""straighten-edge: draw an edge straight between its ends."""

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import name
from trueup.geometry.lines.chain import Chain
from trueup.geometry.measuring.forms import line_of
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.redrawing.between_ends import drawn_between_ends, is_straight


@kind("straighten-edge")
class StraightenEdge(Change):
    """Draw an edge straight from one of its ends to the other.

    Both ends stay, and so do all other edges. Darts in the edge are closed while it is drawn, keep
    their apex and angle, and open on the new line. The corners at its ends change, so it may no
    longer run on smoothly across a seam there: `check` says where. An edge on the fold of the cloth
    cannot be changed. At least 5 mm of cloth are left between the lines.
    """

    phrases = ("straighten the edge",)

    edge: str = name("full name of the edge, such as front.side", of="edge")

    def carried_out(self, draft: Draft) -> Draft:
        piece_name, edge_name = draft.split_edge_name(self.edge)
        piece = draft.piece(piece_name)
        if is_straight(piece.edge(edge_name)):
            return draft
        return draft.with_pieces(
            drawn_between_ends(piece, edge_name, lambda line: Chain.line(line.start, line.end))
        )

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (self.edge,)

    def drawn(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (line_of(self.edge),)
