"""A change in a maker's words, from its parameters as they were declared."""

import dataclasses
import re
from dataclasses import MISSING
from typing import Any

from trueup.geometry.pieces.bodice import BODICE
from trueup.geometry.pieces.position import point_in_words
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
    said, words, beside = phrase, [], []
    for field in fields:
        if field.metadata.get("last"):
            continue
        value = getattr(change, field.name)
        if field.name == "by" and by is not None:
            value = by
        if value is None or (field.name not in places and value == _default(field)):
            continue
        if field.name in places and _names(phrase, field.name):
            of = piece_in_words(value) if field.name == "piece" else f"the {field.name} {value}"
            said = said.replace(f"the {field.name}", of, 1)
        elif _joins(field):
            words.append(_told(field, value, unit, phrase))
        else:
            beside.append(_told(field, value, unit, phrase))
    return " ".join([said, *words, *([f"with {' and '.join(beside)}"] if beside else [])])


def _names(phrase: str, place: str) -> bool:
    """Return whether a phrase has a word for a place, which is told by its name there."""
    return re.search(rf"\bthe {place}\b", phrase) is not None


def _joins(field: "dataclasses.Field[Any]") -> bool:
    """Return whether a parameter goes on with the sentence, and is not what it is made with."""
    name, metadata = field.name, field.metadata
    own = metadata["type"] == "flag" or metadata.get("choices")
    return bool(own) or name in (*_JOINING, *_PLACES)


def _default(field: "dataclasses.Field[Any]") -> Any:
    # A place along an edge is worth saying even where it was left to the kind.
    return MISSING if field.metadata["type"] == "position" else field.default


def _told(field: "dataclasses.Field[Any]", value: Any, unit: Unit, phrase: str) -> str:
    name, type_ = field.name, field.metadata["type"]
    word = name.replace("_", " ")
    if type_ == "flag":
        return word
    text = _value(type_, name, value, unit)
    if name == "piece":
        return f"of {piece_in_words(text)}" if " " in phrase else piece_in_words(text)
    if name in _PLACES:
        return f"{'to' if _names(phrase, 'dart') else 'on'} {text}"
    if field.metadata.get("choices"):
        chosen: str = field.metadata["says"][value]
        return chosen
    return text if text.startswith("right at") else f"{word} {text}"


def piece_in_words(name: str) -> str:
    """Return a piece in words; front and back, which a skirt has as well, are no bodice there."""
    return "front and back" if name == BODICE else f"the {name}"


def _value(type_: str, name: str, value: Any, unit: Unit) -> str:
    if type_ == "length":
        return format_length(value, unit)
    if type_ == "position":
        return str(value.in_words(unit))
    return point_in_words(value) if name == "at" else str(value)
