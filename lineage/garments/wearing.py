"""How far a garment has come: cut, sewn, worn, altered, retired."""

from trueup.lineage.errors import NothingToChange
from trueup.lineage.files.garment_errors import GoingBack
from trueup.lineage.files.garment_records import Status
from trueup.lineage.files.records import replace
from trueup.lineage.garments.altering import altered, is_behind
from trueup.lineage.garments.filing import Filing
from trueup.lineage.garments.saying import LONGEST_WORDS, words
from trueup.lineage.opened import OpenWardrobe

_ORDER = tuple(Status)


def set_status(wardrobe: OpenWardrobe, name: str, wanted: Status, why: str = "") -> Filing:
    """Return the step that gives a garment another status; nothing is written yet.

    What was altered is worn again as a matter of course, and may be altered again when its pattern
    was corrected since; any other way back wants a `why`. Altering records what becomes of the
    cloth; going back to before it takes that out. Raises NoSuchGarment, NothingToChange, GoingBack,
    BadWords, and for altering what `altered` raises.
    """
    garment = wardrobe.state.garment(name)
    is_again = wanted is Status.ALTERED and is_behind(wardrobe, garment)
    if garment.status is wanted and not is_again:
        raise NothingToChange(f"{name} is {wanted} already")
    is_back = _ORDER.index(wanted) < _ORDER.index(garment.status)
    worn_again = (garment.status, wanted) == (Status.ALTERED, Status.WORN)
    reason = words(why, "reason", LONGEST_WORDS)
    if is_back and not worn_again and not reason:
        raise GoingBack(name, garment.status, wanted)
    if wanted is Status.ALTERED:
        return altered(wardrobe, garment, reason)
    now, says = replace(garment, status=wanted), f"{name} is {wanted}"
    if garment.altered_to and wanted in (Status.CUT, Status.SEWN):
        now = replace(now, altered_to="", lacking={})
        beside = {garment.altered_path: None}
        return Filing(wardrobe.base, now, "garment", says, reason, beside=beside)
    return Filing(wardrobe.base, now, "garment", says, reason)
