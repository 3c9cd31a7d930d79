"""Lengths as makers write and read them.

Inside trueup every length is a float in millimetres. Here it comes in from text, goes out to be
read, and goes out to be kept in a file. An inch is 25.4 mm exactly (international yard and pound
agreement, 1959; the same figure as 1 in = 2.54 cm), and all arithmetic is done on exact fractions,
so that the only rounding is the last one, to the nearest float.
"""

import math
import re
from collections.abc import Callable
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache

from trueup.geometry.errors import BadLength, shown
from trueup.geometry.limits import LARGEST_LENGTH, LONGEST_LENGTH
from trueup.geometry.said import said


class Unit(StrEnum):
    """A unit a maker writes; its value is how it is written.

    >>> Unit("in") is Unit.INCH
    True
    """

    MILLIMETRE = "mm"
    CENTIMETRE = "cm"
    INCH = "in"


_MILLIMETRES = {
    Unit.MILLIMETRE: Fraction(1),
    Unit.CENTIMETRE: Fraction(10),
    Unit.INCH: Fraction(254, 10),
}

# The smallest amount a maker marks: a sixteenth on an inch tape, a tenth of the metric unit.
_STEPS_IN_UNIT = {Unit.MILLIMETRE: 10, Unit.CENTIMETRE: 10, Unit.INCH: 16}

# Whole numbers, one over the other: Python divides those to the nearest float.
_MILLIMETRES_A_STEP = {
    unit: (millimetres / _STEPS_IN_UNIT[unit]).as_integer_ratio()
    for unit, millimetres in _MILLIMETRES.items()
}
_STEPS_A_MILLIMETRE = {
    unit: float(_STEPS_IN_UNIT[unit] / millimetres) for unit, millimetres in _MILLIMETRES.items()
}
_SURE = 1e8
_UNSURE = 1e-6
"""So near to a whole number, or beyond such a number, a float no longer tells how to round."""

# Keyboards and word processors turn a typed inch mark into either of the last two.
_UNIT_MARKS = {**{unit.value: unit for unit in Unit}, **dict.fromkeys('"″”', Unit.INCH)}

_FRACTION_SIGNS = {
    sign: Fraction(top, bottom)
    for signs, bottom, tops in (
        ("½", 2, (1,)),
        ("⅓⅔", 3, (1, 2)),
        ("¼¾", 4, (1, 3)),
        ("⅕⅖⅗⅘", 5, (1, 2, 3, 4)),
        ("⅙⅚", 6, (1, 5)),
        ("⅐", 7, (1,)),
        ("⅛⅜⅝⅞", 8, (1, 3, 5, 7)),
        ("⅑", 9, (1,)),
        ("⅒", 10, (1,)),
    )
    for sign, top in zip(signs, tops, strict=True)
}

_SIGNS = "".join(_FRACTION_SIGNS)
# Ordinary, no-break, thin and narrow no-break space: what stands between a number and its unit.
_SPACE = r"[ \t\u00a0\u2009\u202f]"

# The exponent is read because very small floats are written with one; three digits hold them all.
_LENGTH = re.compile(
    rf"""
    (?P<plus_or_minus>[+\-−]?)
    (?:
        (?P<decimal>(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)(?:[eE][+-]?[0-9]{{1,3}})?)
      |
        (?:(?P<whole>[0-9]+)(?:{_SPACE}+|(?=[{_SIGNS}])))?
        (?:(?P<top>[0-9]+)[/⁄](?P<bottom>[0-9]+)|(?P<sign>[{_SIGNS}]))
    )
    {_SPACE}*
    (?P<unit>[^0-9\s.,/⁄+\-−{_SIGNS}]*)
    """,
    re.VERBOSE,
)

_HYPHENATED = re.compile(rf"[+\-−]?[0-9]+{_SPACE}*[-−‐‑–]{_SPACE}*(?:[0-9]+[/⁄][0-9]|[{_SIGNS}]).*")

# One to three digits, a comma, three digits: 1.200 to one maker, 1200 to another.
_COMMA_OR_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")

_HOW_TO_WRITE = said("write-length")


@lru_cache(512)  # the same few amounts stand in most steps
def parse_length(text: str, default: Unit = Unit.MILLIMETRE) -> float:
    """Read a length as a maker writes it and return it in millimetres.

    A number is whole, decimal (point or comma), a fraction, or a whole number and a fraction
    with a space between; a sign may stand before it. The unit is mm, cm, in or the inch mark,
    in small or capital letters; a bare number is taken in ``default``.

    >>> parse_length("12mm"), parse_length("1,2 cm"), parse_length("-5mm")
    (12.0, 12.0, -5.0)
    >>> parse_length("1/2in"), parse_length('1 1/2"'), parse_length("1½ in")
    (12.7, 38.1, 38.1)
    >>> parse_length("3 3/8", default=Unit.INCH)
    85.725

    Raises ``BadLength`` for text that is not a length, for an unknown unit, for a fraction over
    nothing, for a length beyond ``LARGEST_LENGTH``, and for text that could mean two lengths:
    ``1-1/2in`` (a hyphen or a minus) and ``1,200mm`` (a decimal comma or thousands).

    >>> parse_length("12ft")
    Traceback (most recent call last):
    trueup.geometry.errors.BadLength: bad-length (text 12ft): unknown-unit (unit ft); write-length
    """
    if len(text) > LONGEST_LENGTH:
        raise BadLength(text, said("far-too-long"), _HOW_TO_WRITE)
    written = text.strip()
    if not written:
        raise BadLength(text, said("empty"), _HOW_TO_WRITE)
    if _HYPHENATED.fullmatch(written):
        raise BadLength(
            text,
            said("hyphen-or-minus"),
            said("space-before-fraction"),
        )
    match = _LENGTH.fullmatch(written)
    if match is None:
        raise BadLength(text, said("no-number-and-unit"), _HOW_TO_WRITE)
    unit = _unit_of(text, match["unit"], default)
    amount = _amount_of(text, match) * _MILLIMETRES[unit]
    if amount > LARGEST_LENGTH:
        raise _too_long(text)
    # Plus zero because an amount too small for a float would come out as -0.0.
    return float(-amount if match["plus_or_minus"] in {"-", "−"} else amount) + 0.0


@lru_cache(4096)  # a page tells the same lengths over and over
def format_length(mm: float, unit: Unit, rounded: Callable[[Fraction], int] | None = None) -> str:
    """Return a length in millimetres as a maker reads it in ``unit``.

    Inches come as fractions to the nearest 1/16, centimetres and millimetres to the nearest 0.1;
    a length midway between two goes to the one further from zero.

    >>> format_length(38.1, Unit.INCH), format_length(-12.7, Unit.INCH)
    ('1 1/2 in', '-1/2 in')
    >>> format_length(12.34, Unit.CENTIMETRE), format_length(12.34, Unit.MILLIMETRE)
    ('1.2 cm', '12.3 mm')

    A limit must not be rounded beyond itself: ``rounded`` may be ``math.floor``, ``math.ceil`` or
    ``math.trunc`` instead.

    >>> format_length(23.2, Unit.INCH), format_length(23.2, Unit.INCH, math.floor)
    ('15/16 in', '7/8 in')

    Lengths beyond ``LARGEST_LENGTH`` are shown too, so that a message can name them. Raises
    ``BadLength`` for NaN and the infinities.
    """
    steps = rounded(_steps_in(mm, unit)) if rounded else _nearest_steps(mm, unit)
    minus = "-" if steps < 0 else ""
    whole, rest = divmod(abs(steps), _STEPS_IN_UNIT[unit])
    if unit is not Unit.INCH:
        amount = f"{whole}.{rest}" if rest else f"{whole}"
    elif not rest:
        amount = f"{whole}"
    else:
        part = Fraction(rest, _STEPS_IN_UNIT[unit])
        amount = f"{whole} {part}" if whole else f"{part}"
    return f"{minus}{amount} {unit.value}"


def as_printed(mm: float, unit: Unit) -> float:
    """Return the length in mm that ``format_length`` prints, rounded as it rounds.

    >>> as_printed(12.34, Unit.MILLIMETRE), as_printed(12.34, Unit.CENTIMETRE)
    (12.3, 12.0)
    """
    top, bottom = _MILLIMETRES_A_STEP[unit]
    return _nearest_steps(mm, unit) * top / bottom


def in_unit(mm: float, unit: Unit) -> float:
    """Return how many of a unit a length in mm is, not rounded.

    >>> in_unit(127, Unit.INCH)
    5.0
    """
    return float(_fraction_of(mm) / _MILLIMETRES[unit])


def write_length(mm: float) -> str:
    """Return a length as it is kept in a file: millimetres, with every digit that matters.

    ``parse_length(write_length(mm)) == mm`` holds to the last bit.

    >>> write_length(12.0), write_length(12.7), write_length(0.1 + 0.2)
    ('12mm', '12.7mm', '0.30000000000000004mm')

    Raises ``BadLength`` for what ``parse_length`` would refuse: NaN, the infinities and lengths
    beyond ``LARGEST_LENGTH``.
    """
    if abs(_fraction_of(mm)) > LARGEST_LENGTH:
        raise _too_long(f"{mm}mm")
    return f"{_digits(mm)}mm"


def with_unit(text: str, unit: Unit) -> str:
    """Return a length as it is written, a bare number with the unit it stands for.

    >>> with_unit("880", Unit.MILLIMETRE), with_unit("34 1/2in", Unit.CENTIMETRE)
    ('880mm', '34 1/2in')

    Raises ``BadLength`` as ``parse_length`` does.
    """
    parse_length(text, unit)
    written = text.strip()
    return text if written.lower().endswith(tuple(_UNIT_MARKS)) else f"{written}{unit.value}"


def _steps_in(mm: float, unit: Unit) -> Fraction:
    """Return how many of the smallest amounts of a unit a length in mm is, not rounded."""
    return _fraction_of(mm) / _MILLIMETRES[unit] * _STEPS_IN_UNIT[unit]


def _unit_of(text: str, mark: str, default: Unit) -> Unit:
    if not mark:
        return default
    unit = _UNIT_MARKS.get(mark.lower())
    if unit is None:
        raise BadLength(text, said("unknown-unit", unit=shown(mark)), _HOW_TO_WRITE)
    return unit


def _amount_of(text: str, match: re.Match[str]) -> Fraction:
    """Return the number a match holds, without its sign and unit."""
    decimal = match["decimal"]
    if decimal is not None:
        if _COMMA_OR_THOUSANDS.fullmatch(decimal):
            raise BadLength(
                text,
                said("comma-or-thousands"),
                said("write-either", one=decimal.replace(",", "."), other=decimal.replace(",", "")),
            )
        return Fraction(decimal.replace(",", "."))
    if match["sign"] is not None:
        part = _FRACTION_SIGNS[match["sign"]]
    elif int(match["bottom"]) == 0:
        raise BadLength(text, said("divided-by-nought"), _HOW_TO_WRITE)
    else:
        part = Fraction(int(match["top"]), int(match["bottom"]))
    if match["whole"] is None:
        return part
    if part >= 1:
        raise BadLength(
            text,
            said("fraction-over-one"),
            said("whole-and-rest"),
        )
    return int(match["whole"]) + part


def _fraction_of(mm: float) -> Fraction:
    """Return the number a float is written as, not its binary neighbour: 0.1 is one tenth."""
    if not math.isfinite(mm):
        raise BadLength(f"{mm}", said("not-finite"), said("give-millimetres"))
    return Fraction(_digits(mm))


def _digits(mm: float) -> str:
    # float() first: a numpy number says its type in its repr. Plus zero turns -0.0 into 0.0.
    return repr(float(mm) + 0.0).removesuffix(".0")


def _nearest_steps(mm: float, unit: Unit) -> int:
    """Return how many of the smallest amounts of a unit are nearest to a length in mm."""
    about = abs(mm) * _STEPS_A_MILLIMETRE[unit] + 0.5
    # A float tells as much as fractions do, and sooner, but near the middle between two.
    if about < _SURE and _UNSURE < about % 1.0 < 1.0 - _UNSURE:
        size = int(about)
        return -size if mm < 0 else size
    steps = _steps_in(mm, unit)
    size = math.floor(abs(steps) + Fraction(1, 2))
    return -size if steps < 0 else size


def _too_long(text: str) -> BadLength:
    return BadLength(
        text,
        said("more-than", most=LARGEST_LENGTH),
        said("slipped-decimal"),
    )
