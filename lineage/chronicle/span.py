"""Which part of the history is meant: since a date or version, or between two of them."""

import datetime
import re

from msgspec import Struct

from trueup.lineage.chronicle.errors import BadMoment, NotAfter
from trueup.lineage.errors import UnknownRevision
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.store import Commit

_DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


class Span(Struct, frozen=True):
    """A part of the history.

    `until` is the version it ends with; `beyond` one that is left out with all before it. `first`
    and `last` are days, by the clock of whoever made the step, both included.
    """

    until: str = "HEAD"
    beyond: tuple[str, ...] = ()
    first: datetime.date | None = None
    last: datetime.date | None = None

    def holds(self, commit: Commit) -> bool:
        """Return whether a commit's date lies in the span."""
        day = commit.when.date()
        return (self.first is None or self.first <= day) and (self.last is None or day <= self.last)


ALL = Span()


def since(wardrobe: OpenWardrobe, moment: str, today: datetime.date) -> Span:
    """Return the span after a version, or from a day on; raises BadMoment."""
    found = _moment(wardrobe, moment, today)
    return Span(first=found) if isinstance(found, datetime.date) else Span(beyond=(found,))


def between(wardrobe: OpenWardrobe, start: str, end: str, today: datetime.date) -> Span:
    """Return the span after one moment up to another, which is included; each a version or a day.

    Raises BadMoment, NotAfter.
    """
    first, last = _moment(wardrobe, start, today), _moment(wardrobe, end, today)
    span = Span(first=first) if isinstance(first, datetime.date) else Span(beyond=(first,))
    if isinstance(last, datetime.date):
        if isinstance(first, datetime.date) and last < first:
            raise NotAfter(start, end)
        return Span(span.until, span.beyond, span.first, last)
    if isinstance(first, str) and first != last and _comes_before(wardrobe, last, first):
        raise NotAfter(start, end)
    return Span(last, span.beyond, span.first)


def _comes_before(wardrobe: OpenWardrobe, earlier: str, later: str) -> bool:
    """Return whether a version holds nothing that another does not hold."""
    return next(wardrobe.history(until=earlier, beyond=(later,)), None) is None


def _moment(wardrobe: OpenWardrobe, text: str, today: datetime.date) -> datetime.date | str:
    if not _DATE.fullmatch(text.strip()):
        try:
            return wardrobe.resolve(text)
        except UnknownRevision as error:
            reason = "it is no date, and " + error.reason
            raise BadMoment(text, reason) from None
    try:
        day = datetime.date.fromisoformat(text.strip())
    except ValueError:
        raise BadMoment(text, "the calendar has no such day") from None
    if day > today:
        raise BadMoment(text, "that day lies in the future")
    return day
