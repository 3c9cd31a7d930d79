"""Take the last step back, where no edits by hand would be taken back with it."""

from trueup.cli.failures import Misused
from trueup.lineage.recordable import Recorded
from trueup.lineage.undoing import Undoing, propose_undo
from trueup.lineage.writable import WritableWardrobe


def take_back(wardrobe: WritableWardrobe) -> Recorded[Undoing]:
    """Record a step that takes the last one back; no other writer may come between.

    Raises Misused where files were edited by hand since, and NothingToUndo.
    """
    edited = [edit.path for edit in wardrobe.hand_edits()]
    if edited:
        raise Misused(
            f"Edited by hand since the last step: {', '.join(edited)}, so nothing was taken "
            "back; put the files back, or make your next step, which takes the edits up first."
        )
    undoing = propose_undo(wardrobe)
    return Recorded(undoing, wardrobe.record(undoing))
