"""What a block that is drafted anew means to change. Pure."""

from trueup.geometry.tolerance import MEASURE_SAME
from trueup.lineage.replay.intentions import Intention, Read, every_intention

_FOLLOWS = (".leg", "ease")
"""How measures end that follow from others: a leg from its dart, an ease from its two lines."""


def meant_by(old: Read, new: Read) -> tuple[Intention, ...]:
    """Return what a block drafted anew changes of itself, read as it was and as it is.

    The lines, widths, depths and darts that differ by more than passes as carried; where none does,
    those that differ at all.
    """
    found = tuple(each for each in every_intention(old, new) if not each.name.endswith(_FOLLOWS))
    return tuple(each for each in found if abs(each.wanted_mm) > MEASURE_SAME) or found
