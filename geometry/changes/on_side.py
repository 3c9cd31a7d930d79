"""A change that names a piece of one side of the body is one made on that side."""

import dataclasses
from typing import Any

from trueup.geometry.changes.base import Change
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.side import side_of, unsided

_PLACES = ("piece", "edge", "dart", "seam")


def names_a_side(change: Change) -> bool:
    """Return whether a change names something as that of one side, as `left-front`."""
    return any(map(side_of, _named(change).values()))


def on_its_side(change: Change, draft: Draft) -> Change:
    """Return a change that names `left-front` as the same of the front, made on the left.

    As it is where it says its side itself, or where the draft has a piece that is called so.
    """
    own = {each.name for each in draft.pieces if not each.worn}
    own |= {each.name for each in draft.seams if not each.worn}
    told = {n: place for n, place in _named(change).items() if place.partition(".")[0] not in own}
    sides = {side_of(place) for place in told.values()} - {None}
    if change.side or len(sides) != 1:
        return change
    values: dict[str, Any] = {name: unsided(place) for name, place in told.items()}
    return dataclasses.replace(change, side=sides.pop(), **values)


def _named(change: Change) -> dict[str, str]:
    return {
        field.name: str(getattr(change, field.name))
        for field in dataclasses.fields(change)
        if field.metadata.get("of") in _PLACES and getattr(change, field.name)
    }
