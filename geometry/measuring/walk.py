"""Walk a seam: lay one seam line along the other, stepping over darts, and read what is left."""

from dataclasses import dataclass
from itertools import pairwise

from trueup.geometry.measuring.sections import sections_of, sewn_to, stations
from trueup.geometry.pieces.draft import Draft, Run, Seam, Section


@dataclass(frozen=True)
class SectionWalk:
    """A section of a seam walked: the sewn lengths of both sides on it, mm."""

    section: Section
    side: float
    mate: float

    @property
    def ease(self) -> float:
        """Return how much longer the first side is, mm; negative when it is too short."""
        return self.side - self.mate

    @property
    def excess(self) -> float:
        """Return how far the ease lies outside the allowed range, mm; negative below, 0 inside."""
        return self.section.allowed.excess(self.ease)

    @property
    def matches(self) -> bool:
        """Return whether the two sides sew together as the section allows."""
        return self.section.allowed.holds(self.ease)


@dataclass(frozen=True)
class Walk:
    """A seam walked: the sewn lengths of both sides, mm, in all and section by section."""

    seam: Seam
    side: float
    mate: float
    sections: tuple[SectionWalk, ...] = ()

    @property
    def ease(self) -> float:
        """Return how much longer the first side is, mm; negative when it is too short."""
        return self.side - self.mate

    @property
    def excess(self) -> float:
        """Return how far the ease lies outside the allowed range, mm; negative below, 0 inside."""
        return self.seam.allowed.excess(self.ease)

    @property
    def matches(self) -> bool:
        """Return whether the two sides sew together as the seam allows, sections aside."""
        return self.seam.allowed.holds(self.ease)


def run_length(draft: Draft, runs: tuple[Run, ...]) -> float:
    """Return the sewn length of a run of edges, darts skipped, mm."""
    return sum(draft.edge(run.piece, run.edge).length for run in runs)


def walk(draft: Draft, seam: Seam) -> Walk:
    """Return the walk of a seam, as far as it is sewn, whose pieces the draft has.

    Raises NoSuchName otherwise.
    """
    whole = run_length(draft, seam.side), run_length(draft, seam.mate)
    side, mate = sewn_to(draft, seam) or whole
    sections = sections_of(draft, seam)
    ends = [(0.0, 0.0), *stations(draft, seam, sections), (side, mate)]
    if len(ends) != len(sections) + 1:
        return Walk(seam, side, mate)
    walked = (
        SectionWalk(section, after[0] - before[0], after[1] - before[1])
        for section, (before, after) in zip(sections, pairwise(ends), strict=True)
    )
    return Walk(seam, side, mate, tuple(walked))
