"""What a garment's file says, as typed, immutable records. Lengths in mm, dates as dates."""

import datetime
from enum import StrEnum

from msgspec import Struct


class Status(StrEnum):
    """How far a garment has come."""

    CUT = "cut"
    SEWN = "sewn"
    WORN = "worn"
    ALTERED = "altered"
    RETIRED = "retired"


class NotedSide(StrEnum):
    """On which side of the body something was seen."""

    LEFT = "left"
    RIGHT = "right"
    BOTH = "both"


class FitNote(Struct, frozen=True):
    """What was seen on a worn garment.

    `symptom` is a word of the vocabulary or free text; `place` an edge (`front.armhole`) or a
    level (`bust`); `photo` the file inside the wardrobe; `resolved_by` the ids of the corrections
    that mended it, empty while it stands open.
    """

    id: str
    symptom: str
    place: str
    date: datetime.date
    side: NotedSide = NotedSide.BOTH
    amount_mm: float | None = None
    wearer: str = ""
    words: str = ""
    photo: str = ""
    resolved_by: tuple[str, ...] = ()

    @property
    def is_open(self) -> bool:
        """Return whether nothing has mended it yet."""
        return not self.resolved_by


class GarmentRecord(Struct, frozen=True):
    """A garment as its file states it.

    It was cut from `pattern` as of the commit `cut_from`. `allowances` are the seam and hem
    allowances it was cut with, mm by edge (`front.side`); `stitched_down` names edges that cannot
    be opened any more (bound, faced, topstitched). `altered_to` is the commit as of which the
    pattern asked for what was last done to its cloth, empty while it is as it was cut; `lacking`
    says by how much cloth lacked for it, mm by edge.
    """

    name: str
    pattern: str
    cut_from: str
    cut_on: datetime.date
    fabric: str = ""
    wearer: str = ""
    status: Status = Status.CUT
    allowances: dict[str, float] = {}
    stitched_down: tuple[str, ...] = ()
    notes: tuple[FitNote, ...] = ()
    altered_to: str = ""
    lacking: dict[str, float] = {}

    @property
    def path(self) -> str:
        """Return the file of the garment inside the wardrobe."""
        return f"garments/{self.name}.toml"

    @property
    def outline_path(self) -> str:
        """Return the drawing of the cloth as it was cut, inside the wardrobe."""
        return f"garments/{self.name}.svg"

    @property
    def altered_path(self) -> str:
        """Return the drawing of the cloth as it was last altered, inside the wardrobe."""
        return f"garments/{self.name}.altered.svg"

    @property
    def outline_paths(self) -> tuple[str, ...]:
        """Return the drawings of its cloth: as cut, and as altered where it was."""
        cut = (self.outline_path,)
        return (*cut, self.altered_path) if self.altered_to else cut

    @property
    def sewn_as(self) -> str:
        """Return the commit whose pattern it is sewn by."""
        return self.altered_to or self.cut_from

    @property
    def open_notes(self) -> tuple[FitNote, ...]:
        """Return the fit notes that nothing has mended yet."""
        return tuple(note for note in self.notes if note.is_open)
