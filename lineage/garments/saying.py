"""What a maker says of a garment in passing: days and words, taken only where they can be kept."""

import datetime
import re

from trueup.lineage.files.garment_errors import BadDate, BadWords

EARLIEST = datetime.date(1900, 1, 1)
"""Nothing is older: an earlier year is a slip of the pen."""

LONGEST_NAME = 120
"""Letters in a wearer, a fabric or a symptom in free words."""

LONGEST_WORDS = 2000
"""Letters in the free words of a fit note: a page."""

_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


def day(
    text: str | None,
    today: datetime.date,
    not_before: datetime.date = EARLIEST,
    then: str = "the year 1900",
) -> datetime.date:
    """Return the day a text says, today for None; `then` names the day it cannot lie before.

    Raises BadDate for what is no date, lies in the future or before `not_before`.
    """
    said = today.isoformat() if text is None else text.strip()
    if not _DAY.fullmatch(said):
        raise BadDate(said, "it is not written as year, month and day")
    try:
        found = datetime.date.fromisoformat(said)
    except ValueError:
        raise BadDate(said, "there is no such day") from None
    if found > today:
        raise BadDate(said, "it lies in the future")
    if found < not_before:
        raise BadDate(said, f"it lies before {then}")
    return found


def words(text: str, what: str, longest: int = LONGEST_NAME) -> str:
    """Return a text on one line, its spaces made plain; `what` is what a message calls it.

    Raises BadWords where it is too long, or where it holds bytes that are no text.
    """
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        raise BadWords(what, "it holds bytes that are no UTF-8 text") from None
    plain = " ".join(text.split())
    if len(plain) > longest:
        raise BadWords(what, f"it has {len(plain)} letters and {longest} is the most")
    if not all(letter.isprintable() for letter in plain):
        raise BadWords(what, "it holds characters that cannot be printed")
    return plain
