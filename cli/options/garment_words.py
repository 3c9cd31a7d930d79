"""What a maker says of a garment: side and status by their words, and a seam allowance."""

from enum import StrEnum
from typing import TypeVar

from trueup.cli.failures import Misused, nearest
from trueup.geometry.said import said
from trueup.geometry.units import Unit, parse_length
from trueup.lineage.files.garment_records import NotedSide, Status

_WIDEST = 100.0
"""What a seam allowance may be at most, mm."""

_Word = TypeVar("_Word", bound=StrEnum)


def side_named(text: str) -> NotedSide:
    """Return a side of the body; raises Misused with the nearest there are."""
    return _named(NotedSide, text, "side")


def status_named(text: str) -> Status:
    """Return a status of a garment; raises Misused with the nearest there are."""
    return _named(Status, text, "status")


def narrowest_allowance(text: str, unit: Unit) -> float:
    """Return how narrow a seam allowance may be left, mm; raises BadLength, Misused."""
    narrowest = parse_length(text, unit)
    if not 0 <= narrowest <= _WIDEST:
        raise Misused(said("narrowest-allowance", low=0.0, high=_WIDEST))
    return narrowest


def _named(words: type[_Word], text: str, what: str) -> _Word:
    try:
        return words(text)
    except ValueError:
        near = nearest(text, [word.value for word in words])
        raise Misused(f'"{text}" is no {what}; try {near}.') from None
