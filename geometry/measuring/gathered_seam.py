"""State what a seam holds where one of its edges is gathered between two marks."""

import math
from dataclasses import dataclass, replace

from trueup.geometry.measuring.gathers import taken_up
from trueup.geometry.measuring.sections import sections_of, stations
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.draft import Draft, Run, Seam, Section
from trueup.geometry.pieces.piece import Notch
from trueup.geometry.pieces.position import Position
from trueup.geometry.tolerance import SHORTEST_LEFT

GATHERS = "gathers"
_BEFORE, _AFTER = "before-gathers", "after-gathers"


@dataclass(frozen=True)
class GatheredEdge:
    """An edge of a piece that grew by some mm between two places along it as it was sewn before.

    `low` and `high` are lengths from the start of the edge, mm; `mark` is what its notches are
    called, each with the end that it marks.
    """

    run: Run
    low: float
    high: float
    gained: float
    mark: str

    def marks(self) -> tuple[str, str]:
        """Return the names of its two notches, that of the lower length first."""
        return f"{self.mark}-from", f"{self.mark}-to"


def with_gathers(before: Draft, after: Draft, gathered: GatheredEdge) -> Draft:
    """Return a draft whose edge was gathered with its marks, and with what its seams hold now.

    A seam of one edge to one edge is walked in sections from then on, and only that between the
    marks holds the gathers: as much more as the edge gained, neither more nor less. Any other seam
    holds them where the edge is sewn to it. An edge that is sewn to nothing is only marked.
    """
    run = gathered.run
    after = taken_up(after, str(run), gathered.gained)
    length = before.edge(run.piece, run.edge).length
    marked = _marked(after, run, gathered, (gathered.low, length - gathered.high))
    for seam in before.seams:
        mine = next((r for r in seam.runs if (r.piece, r.edge) == (run.piece, run.edge)), None)
        if mine is None:
            continue
        if seam.sections or len(seam.runs) > 2:
            marked = marked.with_seam(_held_there(before, seam, mine, gathered))
        else:
            marked = _in_sections(before, marked, seam, mine, gathered)
    return marked


def _held_there(draft: Draft, seam: Seam, mine: Run, gathered: GatheredEdge) -> Seam:
    """Return a seam that holds what was gathered, in all and in the section in which it lies."""
    ours = mine in seam.side
    by = gathered.gained if ours else -gathered.gained
    sections, runs = sections_of(draft, seam), seam.side if ours else seam.mate
    along = (gathered.low + gathered.high) / 2
    length = draft.edge(mine.piece, mine.edge).length
    along = (length - along if mine.backwards else along) + sum(
        draft.edge(run.piece, run.edge).length for run in runs[: runs.index(mine)]
    )
    ends = [*(each[0 if ours else 1] for each in stations(draft, seam, sections)), math.inf]
    there = next(k for k, end in enumerate(ends) if along < end)
    return replace(
        seam.moved(by, by),
        sections=tuple(
            replace(each, allowed=each.allowed.moved(by, by)) if k == there else each
            for k, each in enumerate(sections)
        ),
    )


def _in_sections(
    before: Draft, draft: Draft, seam: Seam, mine: Run, gathered: GatheredEdge
) -> Draft:
    """Return the draft with a seam walked in sections, its other edge marked to match."""
    ours = mine in seam.side
    other = (seam.mate if ours else seam.side)[0]
    length = before.edge(mine.piece, mine.edge).length
    ends = (gathered.low, length - gathered.high)
    turned = mine.backwards != other.backwards
    draft = _marked(draft, other, gathered, ends[::-1] if turned else ends, turned=turned)
    by = gathered.gained if ours else -gathered.gained
    held = seam.moved(by, by)
    even = Band(tolerance=seam.allowed.tolerance)
    marks = gathered.marks()
    shown = [name for name, end in zip(marks, ends, strict=True) if end > SHORTEST_LEFT]
    if mine.backwards:
        shown.reverse()
    first, last = marks[::-1] if mine.backwards else marks
    sections = [Section(GATHERS, held.allowed, (last, last) if last in shown else ("", ""))]
    if first in shown:
        sections.insert(0, Section(_BEFORE, even, (first, first)))
    if last in shown:
        sections.append(Section(_AFTER, even))
    return draft.with_seam(replace(held, sections=tuple(sections)))


def _marked(
    draft: Draft,
    run: Run,
    gathered: GatheredEdge,
    ends: tuple[float, float],
    *,
    turned: bool = False,
) -> Draft:
    """Return the draft with the marks on an edge, so far from its start and from its end, mm."""
    piece = draft.piece(run.piece)
    edge = piece.edge(run.edge)
    names = gathered.marks()[::-1] if turned else gathered.marks()
    corners = edge.starts_at, edge.ends_at
    marks = (
        Notch(name, edge.name, Position(corner, distance=end))
        for name, corner, end in zip(names, corners, ends, strict=True)
        if end > SHORTEST_LEFT
    )
    return draft.with_pieces(piece.with_notches(*marks))
