"""The words by which a maker says side and status, told apart from all others."""

from enum import StrEnum
from typing import TypeVar

from trueup.cli.failures import Misused, nearest
from trueup.lineage.files.garment_records import NotedSide, Status

_Word = TypeVar("_Word", bound=StrEnum)


def side_named(text: str) -> NotedSide:
    """Return a side of the body; raises Misused with the nearest there are."""
    return _named(NotedSide, text, "side")


def status_named(text: str) -> Status:
    """Return a status of a garment; raises Misused with the nearest there are."""
    return _named(Status, text, "status")


def _named(words: type[_Word], text: str, what: str) -> _Word:
    try:
        return words(text)
    except ValueError:
        near = nearest(text, [word.value for word in words])
        raise Misused(f'"{text}" is no {what}; try {near}.') from None
