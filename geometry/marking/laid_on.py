"""Which pieces are laid on another and sewn there, as a patch pocket is."""

from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.mark import Purpose


def laid_on(draft: Draft) -> tuple[str, ...]:
    """Return the pieces whose place is marked on another by their name: no seam sews them."""
    placed = {
        mark.name
        for piece in draft.pieces
        for mark in piece.marks
        if mark.purpose is Purpose.PLACEMENT
    }
    return tuple(piece.name for piece in draft.pieces if piece.shared_name in placed)
