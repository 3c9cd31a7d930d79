"""What is known of a body as of a day: of each measurement the latest that was taken. Pure."""

import datetime
from collections.abc import Mapping, Sequence

from msgspec import Struct

from trueup.lineage.files.bodies.errors import NothingMeasured
from trueup.lineage.files.bodies.records import BodyRecord


class KnownMeasurement(Struct, frozen=True):
    """A measurement as it is written, and the day on which it was taken."""

    text: str
    date: datetime.date


class AsOf(Struct, frozen=True):
    """What is known of a body as of a day on which something was measured, by name.

    Whoever measures bust and waist anew means that the rest is as it was, so what a set does not
    hold is taken from the latest before it that does.
    """

    body: BodyRecord
    date: datetime.date
    known: Mapping[str, KnownMeasurement]

    @property
    def texts(self) -> dict[str, str]:
        """Return the measurements as they are written."""
        return {name: each.text for name, each in self.known.items()}

    def older(self, names: Sequence[str]) -> dict[str, datetime.date]:
        """Return those of some measurements that were taken on an earlier day, and when."""
        return {
            name: self.known[name].date
            for name in names
            if name in self.known and self.known[name].date != self.date
        }


def known_of(body: BodyRecord, date: datetime.date | None = None) -> AsOf:
    """Return what is known of a body as of a set, the newest for None.

    Raises NothingMeasured where there is no set, or none of that day.
    """
    days = [each.date for each in body.sets]
    day = date if date is not None else max(days, default=None)
    if day is None or day not in days:
        raise NothingMeasured(body.name, None if date is None else str(date), list(map(str, days)))
    known: dict[str, KnownMeasurement] = {}
    for each in body.sets:
        if each.date <= day:
            known |= {name: KnownMeasurement(text, each.date) for name, text in each.taken.items()}
    return AsOf(body, day, known)
