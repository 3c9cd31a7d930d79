"""What gathering a sleeve cap into its armhole does to the ease the seam allows."""

from dataclasses import replace

from trueup.geometry.measuring.measures import CAP_SEAM
from trueup.geometry.pieces.draft import Draft


def gathered(draft: Draft, gathers: float) -> Draft:
    """Return the draft whose armhole seam takes `gathers` mm more ease than before.

    Only the most it takes grows: gathers are drawn up to the armhole as it comes, so that a little
    less cloth makes them flatter but still goes in (common practice, no source). A draft without
    the seam is returned as it is.
    """
    if not gathers or not draft.has_seam(CAP_SEAM):
        return draft
    seam = draft.seam(CAP_SEAM)
    return draft.with_seam(replace(seam, allowed=seam.allowed.moved(0.0, gathers)))
