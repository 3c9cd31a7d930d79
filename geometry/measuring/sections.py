"""The sections of a seam: the stretches from one matched mark to the next, each with its ease.

A seam may state them. A sleeve cap that states none is walked in two halves, from the front
underarm to the crown notch, which is sewn to the shoulder seam, and on to the back underarm. What
the seam may hold is divided: two fifths of it go in front and three behind, where the arm reaches
forward; behind it may be two thirds of the most (common practice, no source; so much of it, 55 to
67 in a hundred, lies behind in drafts of all sizes).
"""

import math
from dataclasses import replace
from itertools import pairwise

from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.beyond.marks import is_beyond
from trueup.geometry.pieces.draft import Draft, Run, Seam, Section

CROWN, SHOULDER_POINT = "crown", "shoulder-point"
FRONT_HALF, BACK_HALF = "front", "back"

_FRONT_SHARE, _BACK_SHARE, _LARGEST_BACK_SHARE = 2 / 5, 3 / 5, 2 / 3


def sections_of(draft: Draft, seam: Seam) -> tuple[Section, ...]:
    """Return the sections a seam states, or the halves of a cap; none for any other seam."""
    if seam.sections or len(seam.mate) < 2:
        return seam.sections
    halves = cap_halves(seam.allowed)
    return halves if stations(draft, seam, halves) else ()


def cap_halves(allowed: Band) -> tuple[Section, Section]:
    """Return the two halves of a cap that may hold so much ease in all."""
    low, high, tolerance = allowed.low, allowed.high, allowed.tolerance
    front = Band(_FRONT_SHARE * low, _FRONT_SHARE * high, tolerance)
    most = max(_BACK_SHARE * high, _LARGEST_BACK_SHARE * high)
    back = Band(_BACK_SHARE * low, most, tolerance)
    return (
        Section(FRONT_HALF, front, (CROWN, SHOULDER_POINT)),
        Section(BACK_HALF, back),
    )


def eased(draft: Draft, seam: Seam, run: Run, by: float) -> Seam:
    """Return a seam of a draft that may hold `by` mm more in all, and there where a run is sewn."""
    sections = sections_of(draft, seam)
    runs, index = (seam.side, 0) if run in seam.side else (seam.mate, 1)
    start = sum(_length(draft, each) for each in runs[: runs.index(run)])
    middle = start + _length(draft, run) / 2
    ends = [*(each[index] for each in stations(draft, seam, sections)), math.inf]
    there = 1 if index else len(sections)  # a cap is sewn to all of it
    return replace(
        seam.moved(by, by),
        sections=tuple(
            replace(section, allowed=section.allowed.moved(by / there, by / there))
            if not index or low <= middle < high
            else section
            for section, (low, high) in zip(sections, pairwise([0.0, *ends]), strict=False)
        ),
    )


def _length(draft: Draft, run: Run) -> float:
    return draft.edge(run.piece, run.edge).length


def shared_out(ease: float, sections: tuple[Section, ...]) -> tuple[float, ...]:
    """Return what each section holds of an ease in all, mm: as far into its band as the others."""
    middles = [(each.allowed.low + each.allowed.high) / 2 for each in sections]
    spans = [each.allowed.high - each.allowed.low for each in sections]
    rest, total = ease - sum(middles), sum(spans)
    shares = [span / total for span in spans] if total else [1 / len(spans)] * len(spans)
    return tuple(middle + rest * share for middle, share in zip(middles, shares, strict=True))


def stations(
    draft: Draft, seam: Seam, sections: tuple[Section, ...]
) -> tuple[tuple[float, float], ...]:
    """Return how far along side and mate each section ends, mm, but for the last.

    Empty where a mark is missing or they do not follow one another.
    """
    found = []
    for section in sections[:-1]:
        side, mate = (
            _station(draft, runs, mark)
            for runs, mark in zip((seam.side, seam.mate), section.ends_at, strict=True)
        )
        if side is None or mate is None:
            return ()
        found.append((side, mate))
    return tuple(found) if found == sorted(found) else ()


def sewn_to(draft: Draft, seam: Seam) -> tuple[float, float] | None:
    """Return how far along side and mate a seam is sewn, mm; None where it is to its end.

    So it is, too, where a notch from which it was left open is gone, or lies beyond its line's end.
    """
    if seam.open_from is None:
        return None
    side, mate = (
        _station(draft, runs, mark)
        for runs, mark in zip((seam.side, seam.mate), seam.open_from, strict=True)
    )
    return None if side is None or mate is None else (side, mate)


def _station(draft: Draft, runs: tuple[Run, ...], mark: str) -> float | None:
    """Return how far along a run of edges a notch lies, or a corner at which two of them meet."""
    done = 0.0
    for index, run in enumerate(runs):
        piece = draft.piece(run.piece)
        edge = piece.edge(run.edge)
        first = edge.ends_at if run.backwards else edge.starts_at
        if index and first == mark:
            return done
        for notch in piece.notches:
            if (notch.edge, notch.name) == (edge.name, mark) and not is_beyond(piece, notch):
                along = notch.at.along(edge)
                return done + (edge.length - along if run.backwards else along)
        done += edge.length
    return None
