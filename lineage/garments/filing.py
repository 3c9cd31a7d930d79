"""What a step on a garment would write, before anything is written."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from trueup.lineage.errors import NoSuchFile
from trueup.lineage.files.garment_files import garment_text
from trueup.lineage.files.garment_records import FitNote, GarmentRecord
from trueup.lineage.wardrobe import Wardrobe


@dataclass(frozen=True)
class Filing:
    """One step on a garment: the garment as it becomes, and the files that say so.

    `note` is the fit note the step is about; `beside` are files other than the garment's own, by
    their path, None to take one out; `says` and `why` what the history tells of it.
    """

    garment: GarmentRecord
    verb: str
    says: str
    why: str = ""
    note: FitNote | None = None
    beside: Mapping[str, bytes | None] = field(default_factory=dict)

    def record(self, wardrobe: Wardrobe) -> str:
        """Record the step as one commit and return its id; raises HandEdited, CannotWrite, ..."""
        writes = {self.garment.path: text_of(wardrobe, self.garment), **self.beside}
        return wardrobe.record_files(writes, self.verb, self.says, self.why)


def text_of(wardrobe: Wardrobe, garment: GarmentRecord) -> bytes:
    """Return the file of a garment as it becomes, with all that its file held besides."""
    try:
        standing = wardrobe.file(garment.path)
    except NoSuchFile:
        standing = None
    return garment_text(garment, standing)
