"""Names of what is read of a draft, where it may be parted in one reading and not in another."""

from collections.abc import Callable, Collection, Mapping
from typing import TypeVar

from trueup.geometry.measuring.measures import CAP_EASE, CAP_SEAM
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.side import Side, sided, unsided
from trueup.geometry.sides.parting import worn_on

Read = TypeVar("Read")


def read_at(found: Mapping[str, Read], name: str) -> Read | None:
    """Return what was read under a name; that of both sides, where it was not read of one alone."""
    return found[name] if name in found else found.get(unsided(name))


def names_at(found: Collection[str], name: str) -> tuple[str, ...]:
    """Return the names under which a thing is found: of each side, where they are read apart."""
    apart = tuple(sided(name, side) for side in Side if sided(name, side) in found)
    return apart or (name,)


def shared_names(names: Collection[str]) -> tuple[str, ...]:
    """Return names of pieces, those that stand for left and right once, by what both share."""
    return tuple(dict.fromkeys(_shared(name, names) for name in names))


def _shared(name: str, names: Collection[str]) -> str:
    shared = unsided(name)
    return shared if all(sided(shared, side) in names for side in Side) else name


def told_of(
    read: Callable[[Draft], tuple[str, ...]], draft: Draft, side: str | None
) -> tuple[str, ...]:
    """Return the names that a function gives of a draft, for one side of the body or for both.

    It is asked about each side by itself; what is worn on one alone is told by its name there.
    """
    if side is None and not draft.is_parted:
        return read(draft)
    apart = {each.shared_name for each in draft.pieces if each.worn}
    apart |= {each.shared_name for each in draft.seams if each.worn}
    found = []
    for here in Side:
        if side in (None, here):
            names = read(worn_on(draft, here))
            found += [sided(n, here) if side or _head(n) in apart else n for n in names]
    return tuple(dict.fromkeys(found))


def _head(name: str) -> str:
    """Return the piece or the seam that a measure is read of."""
    return CAP_SEAM if name == CAP_EASE else name.partition(".")[0]
