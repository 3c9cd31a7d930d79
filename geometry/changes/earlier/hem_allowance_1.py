"""hem-allowance, version 1: its corners are cut as any others."""

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.measuring.measures import allowance_measure
from trueup.geometry.pieces.allowances import HEM, allowed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length


@kind("hem-allowance")
class FirstHemAllowance(Change):
    """Say how much cloth is cut below a hem, to be turned up, and let down later.

    The hem itself stays where it is. Nought takes the allowance off.
    """

    phrases = ("set the hem allowance",)

    piece: str = name("piece whose hem gets it", of="piece")
    by: float = length("depth of the allowance", low=0, high=500)

    def carried_out(self, draft: Draft) -> Draft:
        piece = draft.piece(self.piece)
        piece.edge(HEM)
        if piece.fold == HEM:
            raise DoesNotFit(said("on-fold"), said("leave-as-is"), edge=HEM)
        return draft.with_pieces(allowed(piece, {HEM: self.by}))

    def in_words(self, unit: Unit) -> str:
        side = f" on the {self.side}" if self.side else ""
        where = f"the {self.piece}"
        if not self.by:
            return f"take the hem allowance off {where}{side}"
        return f"give {where} a hem allowance of {format_length(self.by, unit)}{side}"

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (allowance_measure(self.piece, HEM),)
