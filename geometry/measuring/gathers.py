"""What gathering a sleeve cap into its armhole does to the ease the seam allows."""

from trueup.geometry.measuring.measures import CAP_SEAM
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.draft import Draft


def gathered(before: Draft, after: Draft, gathers: float) -> Draft:
    """Return a draft after a change whose armhole seam takes `gathers` mm more ease than before.

    It takes as much more at the most, and at the least as much more as there is to gather: what
    the change gave the cap of it. So a cap that loses its gathers later no longer fits. A draft
    without the seam is returned as it is.
    """
    if not gathers or not after.has_seam(CAP_SEAM):
        return after
    seam = after.seam(CAP_SEAM)
    gained = walk(after, seam).ease - walk(before, before.seam(CAP_SEAM)).ease
    return after.with_seam(seam.moved(min(max(gained, 0.0), gathers), gathers))


def may_be_gathered(draft: Draft, gathers: float) -> Draft:
    """Return the draft whose armhole seam takes `gathers` mm more ease, and asks for no more."""
    if not gathers or not draft.has_seam(CAP_SEAM):
        return draft
    return draft.with_seam(draft.seam(CAP_SEAM).moved(0.0, gathers))
