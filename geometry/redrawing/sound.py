"""What every changed piece is held to: whole outline and darts, fair lines, cloth between them."""

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.measuring.cloth_left import narrowed
from trueup.geometry.measuring.fairness import unfairness
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pleats.laid_open import require_openable
from trueup.geometry.redrawing.darts import dart_in_the_way, inner_darts_lie_free
from trueup.geometry.said import Said, said


def require_sound(piece: Piece, edge: str, possible: Said | None = None) -> None:
    """Raise DoesNotFit when the outline or an inner dart of a changed piece crosses anything.

    So it does where a pleat or a vent has no room any more.
    """
    if piece.is_simple and inner_darts_lie_free(piece):
        if piece.pleats or piece.vents:
            require_openable(piece)
        return
    dart = dart_in_the_way(piece)
    reason = said("over-a-line", dart=dart) if dart else said("outline-crosses")
    raise DoesNotFit(reason, possible, piece=piece.name, edge=edge, dart=dart)


def require_sound_pieces(before: Draft, after: Draft) -> None:
    """Raise DoesNotFit when a piece whose lines were drawn anew is not sound, and was before."""
    for new in after.pieces:
        old = before.piece(new.name) if before.has_piece(new.name) else None
        if old is None or new is old:
            continue
        lines, old_lines = (new.edges, new.inner_darts), (old.edges, old.inner_darts)
        if lines != old_lines and old.is_simple and inner_darts_lie_free(old):
            require_sound(new, "")


def require_fair(before: Piece, after: Piece, edge: str) -> None:
    """Raise DoesNotFit when an edge was given a wave or a tight bend that no maker would cut."""
    trouble = unfairness(before.edge(edge), after.edge(edge))
    if trouble:
        raise DoesNotFit(trouble, piece=after.name, edge=edge)


def require_cloth(before: Piece, after: Piece, edge: str, possible: Said | None = None) -> None:
    """Raise DoesNotFit when a change left too little cloth between two lines of a piece."""
    gap = narrowed(before, after)
    if gap:
        reason = said("little-cloth", left=gap.left, one=gap.own(after), other=gap.other)
        raise DoesNotFit(reason, possible, piece=after.name, edge=edge, dart=gap.dart)
