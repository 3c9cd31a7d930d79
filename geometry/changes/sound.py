"""What every changed piece is held to: whole outline and darts, fair lines, cloth between them."""

from trueup.geometry.changes.base import Change
from trueup.geometry.errors import CannotChange
from trueup.geometry.measuring.cloth_left import narrowed
from trueup.geometry.measuring.fairness import unfairness
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.darts import dart_in_the_way, inner_darts_lie_free


def require_simple(change: Change, piece: Piece, edge: str, amount: float) -> None:
    """Raise CannotChange when the outline of a changed piece crosses itself or an inner dart."""
    if piece.is_simple and inner_darts_lie_free(piece):
        return
    dart = dart_in_the_way(piece)
    met = f"run over the dart {dart}" if dart else "make the outline cross itself"
    reason = f"an amount of {amount:g} mm would {met}"
    raise CannotChange(change.kind, piece.name, edge, reason, "use a smaller amount", dart=dart)


def require_fair(change: Change, before: Piece, after: Piece, edge: str) -> None:
    """Raise CannotChange when an edge was given a wave or a tight bend that no maker would cut."""
    trouble = unfairness(before.edge(edge), after.edge(edge))
    if trouble:
        raise CannotChange(change.kind, after.name, edge, trouble, "use a smaller amount")


def require_cloth(change: Change, before: Piece, after: Piece, edge: str) -> None:
    """Raise CannotChange when a change left too little cloth between two lines of a piece."""
    gap = narrowed(before, after)
    if gap:
        reason = f"only {gap.left:.1f} mm of cloth would be left between {gap.between(after)}"
        possible = "use a smaller amount"
        raise CannotChange(change.kind, after.name, edge, reason, possible, dart=gap.dart)
