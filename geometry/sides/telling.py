"""What is asked of a draft, told for each side of the body that it is asked for."""

from collections.abc import Callable

from trueup.geometry.measuring.measures import CAP_EASE, CAP_SEAM
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.side import Side, sided
from trueup.geometry.sides.parting import parted_names, worn_on


def told_of(
    read: Callable[[Draft], tuple[str, ...]], draft: Draft, side: str | None
) -> tuple[str, ...]:
    """Return the names that a function gives of a draft, for one side of the body or for both.

    It is asked about each side by itself; what is worn on one alone is told by its name there.
    """
    if side is None and not draft.is_parted:
        return read(draft)
    apart = parted_names(draft)
    found = []
    for here in Side:
        if side in (None, here):
            names = read(worn_on(draft, here))
            found += [sided(n, here) if side or _head(n) in apart else n for n in names]
    return tuple(dict.fromkeys(found))


def _head(name: str) -> str:
    """Return the piece or the seam that a measure is read of."""
    return CAP_SEAM if name == CAP_EASE else name.partition(".")[0]
