"""What a step on a garment would write, before anything is written."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from trueup.lineage.files.garment_records import FitNote, GarmentRecord
from trueup.lineage.files.garment_writing import garment_text
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.recordable import Standing
from trueup.lineage.trail import VERB


@dataclass(frozen=True)
class Filing:
    """One step on a garment: the garment as it becomes, and the files that say so; a `Recordable`.

    `note` is the fit note the step is about; `beside` are files other than the garment's own, by
    their path, None to take one out; `says` and `why` what the history tells of it.
    """

    base: str
    garment: GarmentRecord
    verb: str
    says: str
    why: str = ""
    note: FitNote | None = None
    beside: Mapping[str, bytes | None] = field(default_factory=dict)

    @property
    def joins(self) -> None:
        """Return None: it joins nothing."""
        return

    @property
    def message(self) -> str:
        """Return what was done, and why."""
        return f"{self.says}\n\n{self.why}" if self.why else self.says

    @property
    def trailers(self) -> Mapping[str, str]:
        """Return its verb."""
        return {VERB: self.verb}

    def writes(self, standing: Standing) -> Mapping[str, bytes | None]:
        """Return the garment's file, with all that it held besides, and the files beside it."""
        path = self.garment.path
        return {path: garment_text(self.garment, standing([path]).get(path)), **self.beside}


def text_of(wardrobe: OpenWardrobe, garment: GarmentRecord) -> bytes:
    """Return the file of a garment as it becomes, with all that its file held besides."""
    standing = wardrobe.files([garment.path], wardrobe.base)
    return garment_text(garment, standing.get(garment.path))
