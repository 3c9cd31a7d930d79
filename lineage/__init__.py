"""Wardrobes: the graph of patterns, its files and history, replay and conflicts.

`Wardrobe` is the way in: open one, ask it, propose a step, carry it out.
"""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from trueup.lineage.wardrobe import Wardrobe

__all__ = ["Wardrobe"]


def __getattr__(name: str) -> object:
    """Import the way in when it is asked for: whoever needs one room of it does not wait for all.

    Raises AttributeError for any other name.
    """
    if name == "Wardrobe":
        from trueup.lineage.wardrobe import Wardrobe  # noqa: PLC0415

        return Wardrobe
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
