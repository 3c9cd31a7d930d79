"""Names of what is read of a draft, where it may be parted in one reading and not in another."""

from collections.abc import Collection, Mapping
from typing import TypeVar

from trueup.geometry.pieces.side import Side, sided, unsided

Read = TypeVar("Read")


def read_at(found: Mapping[str, Read], name: str) -> Read | None:
    """Return what was read under a name; that of both sides, where it was not read of one alone."""
    return found[name] if name in found else found.get(unsided(name))


def names_at(found: Collection[str], name: str) -> tuple[str, ...]:
    """Return the names under which a thing is found: of each side, where they are read apart."""
    apart = tuple(sided(name, side) for side in Side if sided(name, side) in found)
    return apart or (name,)


def names_wanted(found: Collection[str], name: str) -> tuple[str, ...]:
    """Return the names under which a thing should be found: of both sides where one alone has it.

    So what a piece of one side lacks, while the other side's has it, is missed and not passed over.
    """
    names = names_at(found, name)
    if len(names) == 1 and names[0] != name:
        lacking = next(each for side in Side if (each := sided(name, side)) not in found)
        piece = lacking.partition(".")[0]
        if any(each.startswith(f"{piece}.") for each in found):
            return tuple(sided(name, side) for side in Side)
    return names


def shared_names(names: Collection[str]) -> tuple[str, ...]:
    """Return names of pieces, those that stand for left and right once, by what both share."""
    return tuple(dict.fromkeys(_shared(name, names) for name in names))


def _shared(name: str, names: Collection[str]) -> str:
    shared = unsided(name)
    return shared if all(sided(shared, side) in names for side in Side) else name
