"""What gathering an edge, as a sleeve cap, into its seam does to the ease that this allows."""

from collections.abc import Sequence
from dataclasses import replace

from msgspec import structs

from trueup.geometry.measuring.measures import CAP_SEAM
from trueup.geometry.measuring.sections import sections_of
from trueup.geometry.measuring.walk import Walk, walk
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.draft import Draft, Run, Seam, Section
from trueup.geometry.pieces.drafted import BandTo, CuffTo, DraftedTo
from trueup.geometry.tolerance import SAME_LENGTH

_NEARLY = (0.9, 1.1)
"""What is gathered may be a tenth less or more than was asked for (common practice, no source)."""


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


def asked_for(by: float, least: float | None = None, most: float | None = None) -> Band:
    """Return from which least to which most of `by` mm is to be gathered, a tenth about it."""
    low, high = (
        _NEARLY[0] * by if least is None else least,
        _NEARLY[1] * by if most is None else most,
    )
    return Band(low, high)


def held_gathered(before: Draft, after: Draft, edge: str, by: float, held: Band) -> Draft:
    """Return a draft after a change that made an edge (`piece.edge`) longer, to be gathered.

    Every seam that sews it holds as much more of it as `held` says, in all and where it gained; of
    `by` mm, a band that is drafted to it takes up as much, and stays as long as it was.
    """
    piece, _, name = edge.partition(".")
    for seam in after.seams:
        own = [run for run in seam.runs if (run.piece, run.edge) == (piece, name)]
        if own and before.has_seam(seam.name):
            after = after.with_seam(_holding(before, after, seam, own[0], held))
    return taken_up(after, edge, by)


def taken_up(draft: Draft, edge: str, by: float) -> Draft:
    """Return a draft whose bands along an edge (`piece.edge`) take up `by` mm more of it.

    So a band or a cuff stays as long as it was where its line becomes longer to be gathered.
    """
    return replace(draft, drafted=tuple(_taking_up(to, edge, by) for to in draft.drafted))


def _holding(before: Draft, after: Draft, seam: Seam, own: Run, held: Band) -> Seam:
    low, high = (held.low, held.high) if own in seam.side else (-held.high, -held.low)
    sections = sections_of(after, seam)
    was, now = (_eases(walk(draft, draft.seam(seam.name))) for draft in (before, after))
    gained = [0.0] * len(sections)
    if len(was) == len(now):
        gained = [float(new - old) for old, new in zip(was[1:], now[1:], strict=True)]
    # What only rounding makes longer has gained nothing.
    gained = [each if abs(each) > SAME_LENGTH else 0.0 for each in gained]
    total = sum(gained) or 1.0
    return replace(
        seam.moved(low, high),
        sections=tuple(
            replace(section, allowed=section.allowed.moved(low * part / total, high * part / total))
            for section, part in zip(sections, gained, strict=True)
        ),
    )


def _taking_up(to: DraftedTo, edge: str, by: float) -> DraftedTo:
    if isinstance(to, BandTo | CuffTo) and edge in to.lines:
        return structs.replace(to, gathers=to.gathers + by)
    return to


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
