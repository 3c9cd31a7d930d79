"""Take the last step back, by a new one."""

from collections.abc import Mapping
from dataclasses import dataclass

from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.recordable import Standing
from trueup.lineage.store import Commit
from trueup.lineage.trail import UNDOES, VERB, last_step

UNDO = "undo"


@dataclass(frozen=True)
class Undoing:
    """What takes a step back: the files as they were before it; a `Recordable`."""

    base: str
    undone: Commit
    files: Mapping[str, bytes | None]

    @property
    def joins(self) -> None:
        """Return None: it joins nothing."""
        return

    @property
    def message(self) -> str:
        """Return which step was taken back."""
        return f"Undo: {self.undone.subject}"

    @property
    def trailers(self) -> Mapping[str, str]:
        """Return which commit was taken back."""
        return {VERB: UNDO, UNDOES: self.undone.id}

    def writes(self, standing: Standing) -> Mapping[str, bytes | None]:  # noqa: ARG002
        """Return the files it changes."""
        return self.files


def propose_undo(wardrobe: OpenWardrobe) -> Undoing:
    """Propose to take back the last step that was not taken back yet; raises NothingToUndo."""
    head = wardrobe.head
    undone = last_step(wardrobe.history(until=head))
    then, now = (wardrobe.listing(each) for each in (undone.parents[0], undone.id))
    changed = sorted(path for path in {*then, *now} if then.get(path) != now.get(path))
    contents = wardrobe.files([path for path in changed if path in then], undone.parents[0])
    return Undoing(head, undone, {path: contents.get(path) for path in changed})
