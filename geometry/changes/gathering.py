"""What kinds that gather have in common: slashes, and how much has still to be gathered."""

from typing import Any

from trueup.geometry.changes.declaring import length, number
from trueup.geometry.errors import BadParameter
from trueup.geometry.measuring.gathers import asked_for
from trueup.geometry.pieces.band import Band
from trueup.geometry.said import said

_MOST_SLASHES = 12
_MOST_GATHERED = 2000.0


def slash_count(default: int, most: int = _MOST_SLASHES) -> Any:
    """Declare how many slashes are spread."""
    return number("how many slashes are spread", default, low=1, high=most)


def least_gathered(high: float = _MOST_GATHERED) -> Any:
    """Declare the least that has still to be gathered, mm."""
    help_ = "the least that has still to be gathered; a tenth less than the amount unless given"
    return length(help_, None, low=0, high=high)


def most_gathered(high: float = _MOST_GATHERED) -> Any:
    """Declare the most that may be gathered, mm."""
    help_ = "the most that may be gathered; a tenth more than the amount unless given"
    return length(help_, None, low=0, high=high)


def require_whole(slashes: float) -> None:
    """Raise BadParameter for a number of slashes that is none."""
    if slashes != int(slashes):
        raise BadParameter("slashes", f"{slashes:g}", said("whole-number"))


def gathers_asked(by: float, least: float | None, most: float | None) -> Band:
    """Return how much is asked for of what is gathered, mm; raises BadParameter."""
    asked = asked_for(by, least, most)
    if asked.low > by:
        raise BadParameter("least", said("length", mm=asked.low), said("at-most", most=by))
    if asked.high < by:
        raise BadParameter("most", said("length", mm=asked.high), said("longer-than", least=by))
    return asked
