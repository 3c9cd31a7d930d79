"""What the file of a body says, as typed, immutable records: what was measured, and when."""

import datetime

from msgspec import Struct


class MeasurementSet(Struct, frozen=True):
    """What was measured of a body on one day, as written, by name.

    `taken_by` is who measured, `age` the wearer's in years; both as far as anybody said.
    """

    date: datetime.date
    taken: dict[str, str]
    taken_by: str = ""
    age: int | None = None
    words: str = ""


class BodyRecord(Struct, frozen=True):
    """A wearer's body as its file states it: its sets of measurements, oldest first.

    `name` is that of the file; `wearer` what garments call the wearer.
    """

    name: str
    wearer: str
    sets: tuple[MeasurementSet, ...] = ()

    @property
    def path(self) -> str:
        """Return the file of the body inside the wardrobe."""
        return f"bodies/{self.name}.toml"

    def set_of(self, date: datetime.date) -> MeasurementSet | None:
        """Return what was measured on a day; None where nothing was."""
        return next((each for each in self.sets if each.date == date), None)
