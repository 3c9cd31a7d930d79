"""seam-allowance: how much cloth is cut outside the seam lines."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.earlier.seam_allowance_1 import FirstSeamAllowance
from trueup.geometry.marking.closures import opened_edge
from trueup.geometry.pieces.piece import Piece


@kind("seam-allowance", version=2)
class SeamAllowance(FirstSeamAllowance):
    """Say how much cloth is cut outside a seam line, so that it can be sewn, and let out later.

    Give one edge, or a piece for all its edges but the fold, the hem and one at which it was
    opened, which keeps its extension and its facing. Nought takes the allowance off, for an edge
    that is bound. The seam lines stay as they are.
    """

    def left_out(self, piece: Piece) -> tuple[str | None, ...]:
        return (*super().left_out(piece), opened_edge(piece))
