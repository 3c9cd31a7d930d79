"""Gathers that lie on a stretch of a seam: marked on both its sides, so that it is walked there."""

from collections.abc import Iterator
from dataclasses import replace

from trueup.geometry.measuring.sections import sections_of
from trueup.geometry.measuring.walk import run_length
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.draft import Draft, Run, Seam, Section
from trueup.geometry.pieces.piece import Notch
from trueup.geometry.pieces.position import Position
from trueup.geometry.tolerance import SHORTEST_LEFT

BEFORE, GATHERS, AFTER = "before-gathers", "gathers", "after-gathers"


def marked_stretch(draft: Draft, edge: str, low: float, high: float) -> Draft:
    """Return a draft in which a stretch of an edge, and what it is sewn to, are notched.

    `edge` is written `piece.edge`; `low` and `high` are lengths along it, mm. What a seam may hold
    is shared out over the stretch and what lies beside it, by their lengths. A seam that has
    sections already keeps them, without notches.
    """
    piece, _, name = edge.partition(".")
    for seam in draft.seams:
        own = next((r for r in seam.runs if (r.piece, r.edge) == (piece, name)), None)
        if own and not sections_of(draft, seam):
            draft = _marked(draft, seam, own, (low, high))
    return draft


def _marked(draft: Draft, seam: Seam, own: Run, stretch: tuple[float, float]) -> Draft:
    runs, others = (seam.side, seam.mate) if own in seam.side else (seam.mate, seam.side)
    start = run_length(draft, runs[: runs.index(own)])
    total, other_total = run_length(draft, runs), run_length(draft, others)
    length = draft.edge(own.piece, own.edge).length
    along = [start + (length - at if own.backwards else at) for at in stretch]
    ends = [
        (f"{own.edge}-{GATHERS}-{end}", at)
        for end, at in zip(("begin", "end"), sorted(along), strict=True)
        if SHORTEST_LEFT < at < total - SHORTEST_LEFT
    ]
    if not ends:
        return draft
    for name, at in ends:
        draft = _notched(draft, runs, name, at)
        draft = _notched(draft, others, name, at * other_total / total)
    sections = _sections(seam.allowed, total, ends, min(along))
    return draft.with_seam(replace(seam, sections=tuple(sections)))


def _sections(
    allowed: Band, total: float, ends: list[tuple[str, float]], begin: float
) -> Iterator[Section]:
    names = [*([BEFORE] if begin > SHORTEST_LEFT else []), GATHERS, AFTER]
    places = [0.0, *(at for _, at in ends), total]
    marks = [*((name, name) for name, _ in ends), ("", "")]
    for name, low, high, mark in zip(names, places, places[1:], marks, strict=False):
        share = float((high - low) / total)
        band = Band(share * allowed.low, share * allowed.high, allowed.tolerance)
        yield Section(name, band, mark)


def _notched(draft: Draft, runs: tuple[Run, ...], name: str, along: float) -> Draft:
    for run in runs:
        edge = draft.edge(run.piece, run.edge)
        if along < edge.length or run is runs[-1]:
            corner = edge.ends_at if run.backwards else edge.starts_at
            notch = Notch(name, run.edge, Position(corner, distance=float(along)))
            return draft.with_pieces(draft.piece(run.piece).with_notches(notch))
        along -= edge.length
    return draft
