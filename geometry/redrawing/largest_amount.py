"""How far a change can go: turn a refusal into one that says which amount is still possible."""

import math
from collections.abc import Callable

from trueup.geometry.errors import BrokenOutline, CannotChange
from trueup.geometry.pieces.bodice import bodice_pieces
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece

_GRAIN = 0.1


def or_furthest(
    kind: str, draft: Draft, attempt: Callable[[float], Draft], amount: float, at: tuple[str, str]
) -> Draft:
    """Return what `attempt` makes of an amount in mm, or refuse with the largest it can take.

    Raises CannotChange with the `largest` amount of the same sign, in tenths of a mm, at which the
    attempt was found to succeed; none when not even a tenth does. `at` names piece and edge for
    a refusal that does not know its place.
    """
    try:
        return attempt(amount)
    except (CannotChange, BrokenOutline) as refusal:
        piece, edge, reason = _place(draft, refusal, at)
        largest = _furthest(attempt, amount)
        raise CannotChange(
            kind,
            piece,
            edge,
            reason if f"{amount:g} mm" in reason else f"with {amount:g} mm {reason}",
            f"its amount can go as far as {largest:g} mm" if largest else "no amount can be done",
            largest,
            getattr(refusal, "dart", None),
        ) from refusal


def both_or_furthest(
    kind: str, draft: Draft, changed: Callable[[Piece, float], Piece], amount: float, edge: str
) -> Draft:
    """Return the draft with front and back each changed by an amount in mm, or refuse.

    Raises CannotChange as `or_furthest` does; `edge` is the one that the change is about.
    """
    pieces = bodice_pieces(draft)

    def attempt(by: float) -> Draft:
        return draft.with_pieces(*(changed(piece, by) for piece in pieces))

    return or_furthest(kind, draft, attempt, amount, (pieces[0].name, edge))


def _place(
    draft: Draft, refusal: CannotChange | BrokenOutline, at: tuple[str, str]
) -> tuple[str, str, str]:
    """Return piece, edge and reason; a dart that is out of reach is known by its edge alone."""
    if isinstance(refusal, BrokenOutline):
        return *at, str(refusal)
    if draft.has_piece(refusal.piece):
        return refusal.piece, refusal.edge, refusal.reason
    for piece in draft.pieces:
        if _has_dart(piece, refusal.piece, refusal.edge):
            return piece.name, refusal.piece, refusal.reason
    return *at, refusal.reason


def _has_dart(piece: Piece, edge: str, dart: str) -> bool:
    return any(e.name == edge and dart in {d.name for d in e.darts} for e in piece.edges)


def _furthest(attempt: Callable[[float], Draft], amount: float) -> float | None:
    """Return the largest amount found to succeed by halving, in whole steps of the grain."""

    def of(steps: int) -> float:
        # Just what is told is tried: where lines turn unfair, the last bit can decide.
        return round(math.copysign(steps * _GRAIN, amount), 1)

    low, high = 0, math.floor(abs(amount) / _GRAIN) + 1
    while high - low > 1:
        middle = (low + high) // 2
        if _succeeds(attempt, of(middle)):
            low = middle
        else:
            high = middle
    return of(low) if low else None


def _succeeds(attempt: Callable[[float], Draft], amount: float) -> bool:
    try:
        attempt(amount)
    except (CannotChange, BrokenOutline):
        return False
    return True
