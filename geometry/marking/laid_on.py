"""Which pieces are sewn on another along a mark of it, as a patch pocket, or a slit's binding."""

from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.mark import Purpose


def laid_on(draft: Draft) -> tuple[str, ...]:
    """Return the pieces whose place is marked on another by their name: no seam sews them.

    What binds a slit is called after that.
    """
    marked = [mark for piece in draft.pieces for mark in piece.marks]
    placed = {mark.name for mark in marked if mark.purpose is Purpose.PLACEMENT}
    placed |= {binding_of(mark.name) for mark in marked if mark.purpose is Purpose.SLIT}
    return tuple(piece.name for piece in draft.pieces if piece.shared_name in placed)


def binding_of(slit: str) -> str:
    """Return what the strip is called that binds a slit."""
    return f"{slit}-binding"
