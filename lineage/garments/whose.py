"""Which garments were cut from a pattern, and for whom."""

from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.files.state import State


def garments_of(
    state: State, pattern: str | None = None, wearer: str = ""
) -> tuple[GarmentRecord, ...]:
    """Return the garments by name: all, those cut from a pattern, those of a wearer.

    A wearer is also one who is named in a fit note. Raises NoSuchNode for a pattern that neither
    is nor was there.
    """
    found = tuple(sorted(state.garments.values(), key=lambda each: each.name))
    if pattern is not None:
        if not any(each.pattern == pattern for each in found):
            state.node(pattern)
        found = tuple(each for each in found if each.pattern == pattern)
    name = wearer.strip().casefold()
    return tuple(each for each in found if not name or name in _wearers(each))


def _wearers(garment: GarmentRecord) -> set[str]:
    return {w.casefold() for w in (garment.wearer, *(note.wearer for note in garment.notes))}
