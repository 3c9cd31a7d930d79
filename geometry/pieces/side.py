"""The two sides of a body, and the names of what is worn on one of them alone."""

from collections.abc import Collection
from enum import StrEnum


class Side(StrEnum):
    """A side of the body, as the wearer has it."""

    LEFT = "left"
    RIGHT = "right"


def sided(name: str, side: str | None) -> str:
    """Return the name by which a piece, a seam or a measure of one side is told."""
    return f"{side}-{name}" if side else name


def side_of(name: str) -> Side | None:
    """Return the side a name begins with, if it begins with one."""
    return None if unsided(name) == name else Side(name.partition("-")[0])


def unsided(name: str) -> str:
    """Return a name without the side it begins with, if it begins with one."""
    side, _, shared = name.partition("-")
    return shared if shared and side in tuple(Side) else name


def called_on_sides(
    called: Collection[tuple[str, str]], worn: Collection[tuple[str, Side | None]]
) -> dict[str, str]:
    """Return names with what each is called, and those of a side for what is `worn` on one.

    What is worn is told by the name that both sides share, be it the one or the other.
    """
    found = dict(called)
    for shared, side in worn:
        for own, name in called:
            if shared in (own, name):
                found.setdefault(sided(own, side), sided(name, side))
    return found
