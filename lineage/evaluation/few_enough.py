"""Refuse what would be measured anew for hours before the first of it is."""

from collections.abc import Iterable, Iterator
from typing import TypeVar

from trueup.lineage.errors import TooManyVersions
from trueup.lineage.limits import MOST_MEASURED

_Version = TypeVar("_Version")


def few_enough(versions: Iterable[_Version]) -> Iterator[_Version]:
    """Yield versions that are each measured; raises TooManyVersions after the last allowed one."""
    for count, version in enumerate(versions):
        if count >= MOST_MEASURED:
            raise TooManyVersions(MOST_MEASURED)
        yield version
