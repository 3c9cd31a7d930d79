"""Steps that a test records without proposing them: whole files, and the last step taken back."""

from collections.abc import Mapping
from dataclasses import dataclass

from trueup.lineage.recordable import Standing
from trueup.lineage.store import Commit
from trueup.lineage.trail import VERB
from trueup.lineage.wardrobe import Wardrobe


@dataclass(frozen=True)
class Files:
    base: str
    message: str
    trailers: Mapping[str, str]
    files: Mapping[str, bytes | None]
    joins: str | None = None

    def writes(self, standing: Standing) -> Mapping[str, bytes | None]:
        return self.files


def record_files(
    wardrobe: Wardrobe, files: Mapping[str, bytes | None], verb: str, says: str
) -> str:
    return wardrobe.record(Files(wardrobe.base, says, {VERB: verb}, files))


def undo(wardrobe: Wardrobe) -> Commit:
    undoing = wardrobe.propose_undo()
    wardrobe.record(undoing)
    return undoing.undone
