"""Take out a garment that was recorded by mistake; its history stays."""

from trueup.lineage.files.garment_errors import Unsaid
from trueup.lineage.garments.filing import Filing
from trueup.lineage.garments.saying import LONGEST_WORDS, words
from trueup.lineage.opened import OpenWardrobe


def forget(wardrobe: OpenWardrobe, name: str, why: str) -> Filing:
    """Return the step that takes a garment out: its record, its outline, and the photos on it.

    A photo that another garment's note refers to stays. Raises NoSuchGarment, and Unsaid where
    nobody says why.
    """
    garment = wardrobe.state.garment(name)
    reason = words(why, "reason", LONGEST_WORDS)
    if not reason:
        raise Unsaid("reason", f"{name} is cut cloth, and that is a fact")
    others = (each for each in wardrobe.state.garments.values() if each.name != name)
    elsewhere = {note.photo for each in others for note in each.notes}
    photos = {note.photo for note in garment.notes if note.photo} - elsewhere
    there = wardrobe.paths
    gone = (path for path in (*garment.outline_paths, *sorted(photos)) if path in there)
    beside = dict.fromkeys((garment.path, *gone))
    return Filing(
        wardrobe.base, garment, "garment", f"Take out the garment {name}", reason, beside=beside
    )
