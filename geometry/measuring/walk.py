"""Walk a seam: lay one seam line along the other, stepping over darts, and read what is left."""

from dataclasses import dataclass

from trueup.geometry.pieces.draft import Draft, Run, Seam
from trueup.geometry.tolerance import SAME_LENGTH


@dataclass(frozen=True)
class Walk:
    """A seam walked: the sewn lengths of both sides, and the ease that side has over mate, mm."""

    seam: Seam
    side: float
    mate: float

    @property
    def ease(self) -> float:
        """Return how much longer the first side is, mm; negative when it is too short."""
        return self.side - self.mate

    @property
    def excess(self) -> float:
        """Return how far the ease lies outside the allowed range, mm; negative below, 0 inside."""
        if self.ease < self.seam.ease_low:
            return self.ease - self.seam.ease_low
        return max(self.ease - self.seam.ease_high, 0.0)

    @property
    def matches(self) -> bool:
        """Return whether the two sides sew together as the seam allows."""
        return abs(self.excess) <= self.seam.tolerance + SAME_LENGTH


def run_length(draft: Draft, runs: tuple[Run, ...]) -> float:
    """Return the sewn length of a run of edges, darts skipped, mm."""
    return sum(draft.edge(run.piece, run.edge).length for run in runs)


def walk(draft: Draft, seam: Seam) -> Walk:
    """Return the walk of a seam whose pieces the draft has; raises NoSuchName otherwise."""
    return Walk(seam, run_length(draft, seam.side), run_length(draft, seam.mate))
