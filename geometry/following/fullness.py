"""State that a seam takes up what an edge gained: it is gathered into the line it is sewn to."""

from collections.abc import Iterator
from dataclasses import replace

import msgspec

from trueup.geometry.following.redrafting import lines_of
from trueup.geometry.measuring.sections import eased
from trueup.geometry.pieces.draft import Draft, Run, Seam
from trueup.geometry.pieces.drafted import BandTo, DraftedTo


def gathered_in(before: Draft, after: Draft, edge: str, gain: float) -> Draft:
    """Return a draft after a change whose seams gather in what an edge (`piece.edge`) gained, mm.

    A band that was drafted to the edge keeps its length: it holds so much more of it gathered. A
    collar or a facing of the edge goes on following it, and its seam stays even.
    """
    piece, _, name = edge.partition(".")
    for seam in before.seams:
        run = next((r for r in seam.runs if (r.piece, r.edge) == (piece, name)), None)
        if run is None:
            continue
        to = _drafted(after, seam, edge)
        if to is not None and not isinstance(to, BandTo):
            continue
        after = after.with_seam(_gathered(before, seam, run, gain))
        if to is not None:
            more = _holding_more(to, gain)
            drafted = (more if each is to else each for each in after.drafted)
            after = replace(after, drafted=tuple(drafted))
    return after


def _holding_more(to: BandTo, by: float) -> BandTo:
    return msgspec.structs.replace(to, gathers=to.gathers + by)


def _gathered(before: Draft, seam: Seam, run: Run, gain: float) -> Seam:
    return eased(before, seam, run, gain if run in seam.side else -gain)


def _drafted(draft: Draft, seam: Seam, edge: str) -> DraftedTo | None:
    """Return what a piece of a seam was drafted by, if it was drafted to that edge."""
    return next(_follow(draft, seam, edge), None)


def _follow(draft: Draft, seam: Seam, edge: str) -> Iterator[DraftedTo]:
    return (to for to in draft.drafted if to.piece in seam.pieces and edge in lines_of(to))
