"""Lengths and changes of length as the maker reads them, in the wardrobe's unit."""

import math
from fractions import Fraction

from trueup.geometry.pieces.band import Band
from trueup.geometry.units import Unit, as_printed, format_length, in_unit

_MM_OF_YARD = 914.4
_MOST_PLACES = 4  # behind the point, of an angle


def length(mm: float | None, unit: Unit) -> str:
    """Return a length, or a dash where there is none."""
    return "-" if mm is None else format_length(mm, unit)


def fine_length(mm: float, unit: Unit) -> str:
    """Return a length that may be less than a maker can lay off: to the hundredth of cm and inch.

    >>> fine_length(0.3, Unit.CENTIMETRE), fine_length(0.3, Unit.INCH), fine_length(12.0, Unit.INCH)
    ('0.03 cm', '0.01 in', '0.47 in')
    """
    if unit is Unit.MILLIMETRE:
        return length(mm, unit) if abs(mm) >= 0.1 else f"{mm:.2g} mm"
    return f"{in_unit(mm, unit):.2f} {unit.value}"


def cloth_length(mm: float, unit: Unit) -> str:
    """Return how much cloth to buy: by the eighth of a yard, rounded up, where inches are read.

    >>> cloth_length(1034, Unit.INCH), cloth_length(1034, Unit.CENTIMETRE)
    ('1 1/4 yd (40 11/16 in)', '103.4 cm')
    """
    if unit is not Unit.INCH:
        return length(mm, unit)
    whole, eighths = divmod(math.ceil(mm / _MM_OF_YARD * 8 - 1e-9), 8)
    yards = [str(whole)] if whole or not eighths else []
    yards += [str(Fraction(eighths, 8))] if eighths else []
    return f"{' '.join(yards)} yd ({length(mm, unit)})"


def band(allowed: Band, unit: Unit) -> str:
    """Return what an amount may be, `2.5 cm to 4.5 cm`."""
    low, high = length(allowed.low, unit), length(allowed.high, unit)
    return low if low == high else f"{low} to {high}"


def standing(allowed: Band, mm: float, unit: Unit) -> str:
    """Return with a sign of its own whether an amount is allowed, or by tolerance only."""
    if not allowed.holds(mm):
        return "! outside"
    if allowed.within_tolerance(mm):
        return f"+ within tolerance, {length(allowed.tolerance, unit)}"
    return "+ matches"


def area(mm2: float, unit: Unit) -> str:
    """Return the area of a piece, in square inches or square centimetres."""
    return f"{mm2 / 25.4**2:.0f} in²" if unit is Unit.INCH else f"{mm2 / 100:.0f} cm²"


def cloth_area(mm2: float, unit: Unit) -> str:
    """Return an area of cloth, in square yards or square metres."""
    if unit is Unit.INCH:
        return f"{mm2 / _MM_OF_YARD**2:.2f} yd²"
    return f"{mm2 / 1e6:.2f} m²"


def change(mm: float, unit: Unit) -> str:
    """Return a change of length with its sign, `+1.2 cm`."""
    written = format_length(mm, unit)
    return written if written.startswith(("-", "0 ")) else f"+{written}"


def exact_change(mm: float, unit: Unit) -> str:
    """Return a change of length with its sign in hundredths of the unit, `+1.23 cm`."""
    return f"{in_unit(mm, unit):+.2f} {unit.value}"


def difference(before: float, after: float, unit: Unit) -> str:
    """Return by how much the second of two printed lengths is more than the first, with its sign.

    A maker who subtracts what she reads comes to the same.
    """
    return change(as_printed(after, unit) - as_printed(before, unit), unit)


def before_and_after(before: float | None, after: float | None, unit: Unit) -> str:
    """Return a measure before and after, and the change with its sign; once where both are alike.

    >>> before_and_after(115.9, 115.91, Unit.MILLIMETRE)
    '115.9 mm, as before'
    """
    was, becomes = length(before, unit), length(after, unit)
    if before is None or after is None:
        return f"{was} -> {becomes}"
    if was == becomes:
        return f"{becomes}, as before"
    return f"{was} -> {becomes} ({difference(before, after, unit)})"


def degrees(angle: float, *limits: float) -> str:
    """Return an angle to the tenth of a degree, or as finely as it takes to tell it from a limit.

    >>> degrees(175.96), degrees(175.96, 176.0, 184.0), degrees(176.0, 176.0)
    ('176.0 degrees', '175.96 degrees', '176.0 degrees')
    """
    others = [limit for limit in limits if limit != angle]
    places = next(
        (n for n in range(1, _MOST_PLACES) if all(_told(angle, n) != _told(o, n) for o in others)),
        _MOST_PLACES,
    )
    return f"{_told(angle, places)} degrees"


def _told(number: float, places: int) -> str:
    return f"{number:.{places}f}"


def metres(mm: float, unit: Unit) -> str:
    """Return a great length: in metres, or in whole inches where a maker reads inches.

    >>> metres(10_000.0, Unit.CENTIMETRE), metres(10_000.0, Unit.INCH)
    ('10 m', '393 in')
    """
    return f"{mm // 25.4:.0f} in" if unit is Unit.INCH else f"{mm / 1000:g} m"
