"""How the parameters of a kind of change are declared: what each is, its help, what it may be."""

import dataclasses
import re
from collections.abc import Mapping
from dataclasses import MISSING, dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import Any

from trueup.geometry.errors import BadParameter
from trueup.geometry.said import said

_NEW_NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


def require_new_name(parameter: str, text: str) -> None:
    """Raise BadParameter where something new cannot be called so."""
    if not _NEW_NAME.fullmatch(text):
        raise BadParameter(parameter, text, said("write-name"))


class ParameterType(StrEnum):
    """What a parameter holds, and so how it is written and read."""

    LENGTH = "length"
    POSITION = "position"
    NAME = "name"
    FLAG = "flag"
    TEXT = "free_text"
    NUMBER = "number"


@dataclass(frozen=True)
class Most:
    """The most that is recommended of an amount, mm; more is made as asked, and told of.

    `less` is that of a negative amount where it is another. `source` names where it is published;
    without one it is common practice.
    """

    more: float
    less: float | None = None
    source: str = ""

    def of(self, amount: float) -> float:
        """Return the most of an amount of this sign, mm."""
        return self.less if amount < 0 and self.less is not None else self.more


def _declared(type_: ParameterType, help_: str, default: Any, **more: Any) -> Any:
    metadata = {"type": type_, "help": help_, **more}
    return dataclasses.field(default=default, metadata=metadata)


def length(
    help: str,
    default: Any = MISSING,
    *,
    low: float = -1000.0,
    high: float = 1000.0,
    zero: bool = True,
    most: Most | None = None,
) -> Any:
    """Declare a length parameter in mm, allowed between `low` and `high`; `zero` may be refused.

    `most` is the most that is recommended.
    """
    return _declared(ParameterType.LENGTH, help, default, low=low, high=high, zero=zero, most=most)


def position(help: str, default: Any = MISSING, *, on: str) -> Any:
    """Declare a position along an edge, or along the one that the parameter `on` names."""
    return _declared(ParameterType.POSITION, help, default, of=on)


def name(
    help: str,
    default: Any = MISSING,
    *,
    of: str = "",
    choices: tuple[str, ...] = (),
    says: Mapping[str, str] = MappingProxyType({}),
    last: bool = False,
) -> Any:
    """Declare a name, `of` a piece, an edge, a dart or a seam, or one of a few words.

    `says` has, by what may be chosen, how a maker puts it at the end of what the kind does. One
    that every kind has comes `last`, after a kind's own.
    """
    more = {"of": of, "choices": choices, "says": says, "last": last}
    return _declared(ParameterType.NAME, help, default, **more)


def free_text(help: str, default: Any = MISSING, *, of: str = "") -> Any:
    """Declare a free text that the kind itself reads (and checks when the record is made).

    `of` says what its words name, where they are names of pieces.
    """
    return _declared(ParameterType.TEXT, help, default, of=of)


def flag(help: str) -> Any:
    """Declare a yes-or-no parameter that is no unless said."""
    return _declared(ParameterType.FLAG, help, False)


def number(help: str, default: Any = MISSING, *, low: float, high: float) -> Any:
    """Declare a plain number (a share, degrees) between `low` and `high`."""
    return _declared(ParameterType.NUMBER, help, default, low=low, high=high)
