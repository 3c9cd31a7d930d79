"""A change in a maker's words, from its parameters as they were declared."""

import dataclasses
from dataclasses import MISSING
from typing import Any

from trueup.geometry.units import Unit, format_length

_JOINING = ("by", "to", "at", "from", "over", "through", "towards", "along")
_PLACES = ("piece", "edge", "dart")
"""What is a place on a draft; a seam is told of, but is none."""


def places_named(change: Any) -> tuple[str, ...]:
    """Return the parameters of a change that name a piece, an edge or a dart."""
    return tuple(
        field.name
        for field in dataclasses.fields(change)
        if field.metadata["type"] == "name" and field.metadata.get("of") in _PLACES
    )


def completed(change: Any, phrase: str, unit: Unit, by: float | None = None) -> str:
    """Return a phrase completed by the change's parameters: places first, then amounts.

    `by` (mm) is told instead of the change's own amount, where the phrase has turned its sign
    into a word. What is at its default, and no place, is left out.
    """
    places = places_named(change)
    fields = sorted(dataclasses.fields(change), key=lambda field: field.name not in places)
    words = [phrase]
    for field in fields:
        if field.metadata.get("last"):
            continue
        value = getattr(change, field.name)
        if field.name == "by" and by is not None:
            value = by
        if value is None or (field.name not in places and value == _default(field)):
            continue
        words.append(_told(field, value, unit, phrase))
    return " ".join(words)


def _default(field: "dataclasses.Field[Any]") -> Any:
    # A place along an edge is worth saying even where it was left to the kind.
    return MISSING if field.metadata["type"] == "position" else field.default


def _told(field: "dataclasses.Field[Any]", value: Any, unit: Unit, phrase: str) -> str:
    name, type_ = field.name, field.metadata["type"]
    word = name.replace("_", " ")
    if type_ == "flag":
        return word
    text = format_length(value, unit) if type_ == "length" else str(value)
    if name == "piece":
        return f"of the {text}" if " " in phrase else f"the {text}"
    if name in _PLACES and phrase.endswith(name):
        return text
    if name in _PLACES:
        return f"{'to' if phrase.endswith('dart') else 'on'} {text}"
    if field.metadata.get("choices"):
        chosen: str = field.metadata["says"][value]
        return chosen
    return f"{word} {text}" if name in _JOINING else f"with {word} {text}"
