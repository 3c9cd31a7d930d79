"""Places on a line as a maker says them, from how they are written."""

from trueup.geometry.errors import GeometryError
from trueup.geometry.pieces.position import Position, point_in_words
from trueup.geometry.units import Unit


def place_in_words(written: str, unit: Unit) -> str:
    """Return a place on a line in words, any other text as it is written.

    >>> place_in_words("60mm from shoulder-point", Unit.CENTIMETRE)
    '6 cm from the shoulder point'
    >>> place_in_words("front.side", Unit.CENTIMETRE)
    'front.side'
    """
    if " from " not in written:
        return written
    try:
        return Position.parse(written, unit).in_words(unit)
    except GeometryError:
        return written


def corner_in_words(corner: str) -> str:
    """Return the name of a corner in words, without an article.

    >>> corner_in_words("shoulder-point")
    'shoulder point'
    """
    return point_in_words(corner).removeprefix("the ")
