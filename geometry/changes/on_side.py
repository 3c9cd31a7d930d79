"""What a change names, told otherwise: by the side it is made on, by the own names of pieces."""

import dataclasses
from collections.abc import Mapping
from typing import Any, TypeVar

from trueup.geometry.calling.own_names import by_own_names, in_names
from trueup.geometry.changes.declaring import ParameterType
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.side import side_of, unsided

Told = TypeVar("Told")
"""A change, of whichever kind."""

_PLACES = ("piece", "edge", "dart", "seam")


def names_a_side(change: Any) -> bool:
    """Return whether a change names something as that of one side, as `left-front`."""
    return any(map(side_of, _named(change).values()))


def on_its_side(change: Told, draft: Draft) -> Told:
    """Return a change that names `left-front` as the same of the front, made on the left.

    As it is where it says its side itself, or where the draft has a piece that is called so.
    """
    own = {each.name for each in draft.pieces if not each.worn}
    own |= {each.name for each in draft.seams if not each.worn}
    own |= {*draft.called_names, *draft.called_names.values()}
    named = {n: place for n, place in _named(change).items() if place.partition(".")[0] not in own}
    sides = {side_of(place) for place in named.values()} - {None}
    if _side(change) or len(sides) != 1:
        return change
    values: dict[str, Any] = {name: unsided(place) for name, place in named.items()}
    told: Told = _with(change, side=sides.pop(), **values)
    return told


def by_own_names_told(change: Told, draft: Draft) -> Told:
    """Return a change with the pieces it names told by their own names, for a draft by those."""
    return on_its_side(told_by(change, draft.called_names), by_own_names(draft))


def told_by(change: Told, called: Mapping[str, str]) -> Told:
    """Return a change with the pieces it names told by their own names, which are so `called`."""
    if not called:
        return change
    own = {name: own for own, name in called.items()}
    values: dict[str, Any] = {}
    for field in _fields(change):
        text = getattr(change, field.name)
        if isinstance(text, str) and _may_name(field):
            values[field.name] = " ".join(_own(each, own, field) for each in text.split(" "))
    told: Told = _with(change, **values)
    return told


def _may_name(field: "dataclasses.Field[Any]") -> bool:
    return field.metadata["type"] == ParameterType.TEXT or field.metadata.get("of") in _PLACES


def _own(text: str, own: Mapping[str, str], field: "dataclasses.Field[Any]") -> str:
    """Return one word of a text by own names; what names no place, as what is new, stays."""
    return in_names(text, own) if "." in text or field.metadata.get("of") in _PLACES else text


def _named(change: Any) -> dict[str, str]:
    return {
        field.name: str(getattr(change, field.name))
        for field in _fields(change)
        if field.metadata["type"] == ParameterType.NAME
        and field.metadata.get("of") in _PLACES
        and getattr(change, field.name)
    }


def _side(change: Any) -> str | None:
    side: str | None = change.side
    return side


def _fields(change: Any) -> tuple["dataclasses.Field[Any]", ...]:
    return dataclasses.fields(change)


def _with(change: Any, **values: Any) -> Any:
    return dataclasses.replace(change, **values)
