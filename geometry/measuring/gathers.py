"""What gathering a sleeve cap into its armhole does to the ease the seam allows."""

from collections.abc import Sequence
from dataclasses import replace

from trueup.geometry.measuring.measures import CAP_SEAM
from trueup.geometry.measuring.sections import sections_of
from trueup.geometry.measuring.walk import Walk, walk
from trueup.geometry.pieces.draft import Draft, Section


def gathered(before: Draft, after: Draft, gathers: float) -> Draft:
    """Return a draft after a change whose armhole seam takes `gathers` mm more ease than before.

    It takes as much more at the most, and at the least as much more as there is to gather: what
    the change gave the cap of it. So a cap that loses its gathers later no longer fits. Front and
    back take half of it each. A draft without the seam is returned as it is.
    """
    if not gathers or not after.has_seam(CAP_SEAM):
        return after
    old, new = (walk(draft, draft.seam(CAP_SEAM)) for draft in (before, after))
    gained = [b - a for a, b in zip(_eases(old), _eases(new), strict=True)]
    return _with_gathers(after, gathers, gained)


def may_be_gathered(draft: Draft, gathers: float) -> Draft:
    """Return the draft whose armhole seam takes `gathers` mm more ease, and asks for no more."""
    if not gathers or not draft.has_seam(CAP_SEAM):
        return draft
    sewn = walk(draft, draft.seam(CAP_SEAM))
    return _with_gathers(draft, gathers, [0.0] * len(_eases(sewn)))


def _with_gathers(draft: Draft, gathers: float, gained: Sequence[float]) -> Draft:
    """Return the draft with gathers allowed, and as many asked for as the cap gained.

    What it gained stands in all and section by section.
    """
    seam = draft.seam(CAP_SEAM)
    sections = sections_of(draft, seam)
    whole, *parts = gained
    return draft.with_seam(
        replace(
            seam.moved(_at_most(whole, gathers), gathers),
            sections=tuple(
                _gathered(section, part, gathers / len(sections))
                for section, part in zip(sections, parts, strict=True)
            ),
        )
    )


def _gathered(section: Section, gained: float, gathers: float) -> Section:
    allowed = section.allowed.moved(_at_most(gained, gathers), gathers)
    return replace(section, allowed=allowed)


def _at_most(gained: float, gathers: float) -> float:
    return min(max(gained, 0.0), gathers)


def _eases(walked: Walk) -> list[float]:
    return [walked.ease, *(part.ease for part in walked.sections)]
