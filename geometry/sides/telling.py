"""What is asked of a draft, told for each side of the body that it is asked for."""

from collections.abc import Callable
from dataclasses import replace

from trueup.geometry.calling.own_names import by_own_names, own_name
from trueup.geometry.errors import NoSuchName
from trueup.geometry.measuring.measures import CAP_EASE, CAP_SEAM
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.side import Side, sided
from trueup.geometry.sides.parting import parted_names, worn_on


def told_of(
    read: Callable[[Draft], tuple[str, ...]], draft: Draft, side: str | None
) -> tuple[str, ...]:
    """Return the names that a function gives of a draft, for one side of the body or for both.

    It is asked about each side by itself; what is worn on one alone is told by its name there.
    Pieces are told of by their own names, whatever they are called.
    """
    if side is None and not draft.is_parted:
        return _read(read, _by_own_names(draft))
    apart = parted_names(by_own_names(draft))
    found: list[str] = []
    for here in Side:
        if side in (None, here):
            names = _read_on(read, draft, here)
            found += [sided(n, here) if side or _head(n) in apart else n for n in names]
    return tuple(dict.fromkeys(found))


def _by_own_names(draft: Draft) -> Draft:
    """Return a draft by own names in which those that pieces are called are known, too."""
    return replace(by_own_names(draft), called=draft.called) if draft.called else draft


def _read(read: Callable[[Draft], tuple[str, ...]], draft: Draft) -> tuple[str, ...]:
    names = read(draft)
    return tuple(own_name(draft, name) for name in names) if draft.called else names


def _read_on(read: Callable[[Draft], tuple[str, ...]], draft: Draft, side: Side) -> tuple[str, ...]:
    half = worn_on(_by_own_names(draft), side)
    if not draft.called:
        return read(half)
    try:
        return _read(read, half)
    except NoSuchName:
        # What is worn on the other side alone may be called by a name that this one has not.
        if _knows(read, worn_on(_by_own_names(draft), _OTHER[side])):
            return ()
        raise


def _knows(read: Callable[[Draft], tuple[str, ...]], draft: Draft) -> bool:
    try:
        read(draft)
    except NoSuchName:
        return False
    return True


_OTHER = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}


def _head(name: str) -> str:
    """Return the piece or the seam that a measure is read of."""
    return CAP_SEAM if name == CAP_EASE else name.partition(".")[0]
