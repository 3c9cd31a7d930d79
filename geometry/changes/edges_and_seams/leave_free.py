"""leave-free: say that an edge is sewn to nothing."""

from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.said import said


@kind("leave-free")
class LeaveFree(Change):
    """Say that an edge is sewn to nothing: it is finished by itself, or lies open.

    A draft is never called true while a line that could be sewn is neither sewn nor said to be
    free. Necks, hems, openings, and an armhole without a sleeve, are free without being said so.
    No line moves. Where it is sewn later, with sew-together, it is walked like any other.
    """

    phrases = ("leave the edge free",)

    edge: str = name("edge that is sewn to nothing, such as front.side", of="edge")

    def carried_out(self, draft: Draft) -> Draft:
        piece_name, edge = draft.split_edge_name(self.edge)
        piece = draft.piece(piece_name)
        if piece.fold == edge:
            raise DoesNotFit(said("on-fold"), said("name-another-edge"))
        sewn = [seam.name for seam in draft.seams if self.edge in map(str, seam.runs)]
        if sewn:
            raise DoesNotFit(said("sewn-by", seam=sewn[0]), said("unpick-first"))
        if edge in piece.free:
            return draft
        return draft.with_pieces(replace(piece, free=(*piece.free, edge)))

    @property
    def trues(self) -> bool:
        return True

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()
