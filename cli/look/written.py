"""What a maker wrote into the fields of a page, and how a command is told the same."""

from collections.abc import Sequence
from typing import Annotated

import msgspec

Short = Annotated[str, msgspec.Meta(max_length=500)]
Long = Annotated[str, msgspec.Meta(max_length=20_000)]


class NodeAsked(msgspec.Struct, forbid_unknown_fields=True):
    """A block or pattern by its name."""

    node: Short


def with_option(words: Sequence[str], option: str, value: str) -> list[str]:
    """Return the words of a command with an option, where a value was written for it.

    >>> with_option(["note"], "--words", "-5 mm")
    ['note', '--words=-5 mm']
    """
    if not value:
        return [*words]
    # A value may begin like an option.
    return [*words, f"{option}={value}"] if value.startswith("-") else [*words, option, value]


def with_reason(words: Sequence[str], why: str) -> list[str]:
    """Return the words of a command with the reason that was given, if one was."""
    return with_option(words, "--why", why)
