"""hem-allowance: how much cloth is cut below a hem, and so that it lies flat when it is turned."""

from collections.abc import Iterator
from dataclasses import replace

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.earlier.hem_allowance_1 import FirstHemAllowance
from trueup.geometry.pieces.allowances import HEM
from trueup.geometry.pieces.corner import corner_degrees, edges_at
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.cut_corner import CutCorner, Treatment
from trueup.geometry.pieces.piece import Piece

_DEEP = 20.0
"""A hem of this depth or more does not lie flat unless its corners mirror what lies above it, mm
(common practice, no source)."""

_SHARPEST, _BLUNTEST = 25.0, 155.0
"""Between these angles a corner can be mirrored, in degrees."""


@kind("hem-allowance", version=2)
class HemAllowance(FirstHemAllowance):
    """Say how much cloth is cut below a hem, to be turned up, and let down later.

    The hem itself stays where it is. Where it is 20 mm or more, the cloth below its ends is cut as
    the mirror image of what lies above, so that it lies flat when it is turned, however the piece
    tapers or flares (common practice, no source); not at the fold, nor where something is sewn to
    it. `shape-corner` says otherwise of a corner. Nought takes the allowance off.
    """

    def carried_out(self, draft: Draft) -> Draft:
        changed = super().carried_out(draft)
        piece = changed.piece(self.piece)
        is_sewn = any(
            (run.piece, run.edge) == (piece.name, HEM) for seam in draft.seams for run in seam.runs
        )
        if self.by == 0:
            kept = tuple(each for each in piece.corners if not _is_ours(each))
            return changed.with_pieces(replace(piece, corners=kept))
        if self.by < _DEEP or is_sewn:
            return changed
        return changed.with_pieces(replace(piece, corners=(*piece.corners, *_mirrored(piece))))


def _is_ours(corner: CutCorner) -> bool:
    return corner.edge == HEM and corner.treatment is Treatment.MIRRORED


def _mirrored(piece: Piece) -> Iterator[CutCorner]:
    """Yield the corners of a hem that are mirrored: those of which nothing else is said."""
    told = {each.corner for each in piece.corners}
    hem = piece.edge(HEM)
    for corner in (hem.starts_at, hem.ends_at):
        on_fold = piece.fold in [edge.name for edge in edges_at(piece, corner)]
        if corner in told or on_fold:
            continue
        if _SHARPEST <= corner_degrees(piece, corner) <= _BLUNTEST:
            yield CutCorner(corner, Treatment.MIRRORED, HEM)
