"""A length as a step writes it: plain, or bound to measures of the body. The one place they meet.

12mm, 1 1/2in              plain: the same on every body
4% of waist, bust/24 + 1cm bound: what it comes to on the body the block was drafted for
"""

import re
from collections.abc import Mapping
from typing import Any, Self

from trueup.geometry.amounts.expression import Body, worth
from trueup.geometry.errors import BadLength
from trueup.geometry.units import Unit, parse_length, write_length

NO_BODY: Body = {}
"""Of a block that was not drafted from measurements."""

_WORD = re.compile(r"[A-Za-z]{2,}")
_UNITS = ("mm", "cm", "in")
_JOINED = re.compile(r"[%*×·÷/⁄+()−½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞-]|\bof\b")
_ELSEWHERE = re.compile(r"[:'#@=]|\bfrom\b")
"""What stands in places along an edge, in points and in texts, and in no amount."""


class BoundLength(float):
    """A length in mm that is bound to the body: it remembers how it is written.

    >>> BoundLength(110.0, "bust/8") + 1.0, BoundLength(110.0, "bust/8").text
    (111.0, 'bust/8')
    """

    text: str

    def __new__(cls, mm: float, text: str) -> Self:
        """Return what a text comes to."""
        made = super().__new__(cls, mm)
        made.text = text
        return made


def is_bound(text: object) -> bool:
    """Return whether a written value may be a length bound to the body, and is no plain one.

    >>> is_bound("bust/8"), is_bound("4% of waist"), is_bound("12mm"), is_bound("1 1/2in")
    (True, True, False, False)
    >>> is_bound("12 ft"), is_bound("40% from underarm"), is_bound("-5mm")
    (False, False, False)
    """
    if not isinstance(text, str) or _ELSEWHERE.search(text):
        return False
    names = [word for word in _WORD.findall(text) if word.lower() not in _UNITS]
    return bool(names) and _JOINED.search(text.strip().lstrip("+-−")) is not None


def bound_in(values: Mapping[str, Any]) -> tuple[str, ...]:
    """Return the names of the values that may be bound to the body."""
    return tuple(name for name, value in values.items() if is_bound(value))


def read_length(text: str, unit: Unit, body: Body = NO_BODY) -> float:
    """Return a length in mm: as it is written, or what it comes to on a body.

    A bare number takes `unit`. Raises BadLength.

    >>> read_length("12mm", Unit.INCH), read_length("bust/8", Unit.INCH, {"bust": (880.0,)})
    (12.0, 110.0)
    """
    if not is_bound(text):
        return parse_length(text, unit)
    mm = float(worth(text, body))
    try:
        write_length(mm)
    except BadLength as error:
        raise BadLength(text, error.reason, error.remedy) from None
    return BoundLength(mm, text.strip())


def written_length(mm: float) -> str:
    """Return a length as a file holds it: one that is bound as it was written."""
    return mm.text if isinstance(mm, BoundLength) else write_length(mm)
