"""How far a change can go: turn a refusal into one that says which amount is still possible."""

import math
from collections.abc import Callable

from trueup.geometry.errors import BrokenOutline, DoesNotFit
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.said import said

_GRAIN = 0.1


def or_furthest(attempt: Callable[[float], Draft], amount: float) -> Draft:
    """Return what `attempt` makes of an amount in mm, or refuse with the largest it can take.

    Raises DoesNotFit with the `largest` amount of the same sign, in tenths of a mm, at which the
    attempt was found to succeed; none when not even a tenth does.
    """
    try:
        return attempt(amount)
    except (DoesNotFit, BrokenOutline) as refusal:
        met = DoesNotFit.of(refusal)
        largest = _furthest(attempt, amount)
        raise DoesNotFit(
            said("with-amount", met.reason, by=amount),
            said("as-far-as", by=largest) if largest else said("no-amount"),
            piece=met.piece,
            edge=met.edge,
            largest=largest,
            dart=met.dart,
        ) from refusal


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
    except (DoesNotFit, BrokenOutline):
        return False
    return True
