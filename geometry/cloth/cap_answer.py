"""Whether a sleeve cap that is already cut still fits an armhole that grew: whole and by halves."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate, pairwise

from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.errors import CannotChange
from trueup.geometry.measuring.measures import CAP_SEAM
from trueup.geometry.measuring.sections import sections_of, stations
from trueup.geometry.measuring.walk import run_length
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.draft import Draft, Section
from trueup.geometry.tolerance import UNCHANGED
from trueup.geometry.units import Unit

MOST = 60.0
"""No armhole is hollowed by more, mm."""

_FINEST = 0.01

_HOLLOWINGS_AT_HAND = 64
"""Found step by step, and the same for every garment cut from one version of a pattern."""


@dataclass(frozen=True)
class EaseAnswer:
    """A cap as it was cut, or a section of it, against the armhole before and after, mm.

    `allowed` is the ease that may lie in it.
    """

    cap: float
    old_armhole: float
    new_armhole: float
    allowed: Band

    @property
    def old_ease(self) -> float:
        """Return the ease the cap had over the armhole it was cut for."""
        return self.cap - self.old_armhole

    @property
    def new_ease(self) -> float:
        """Return the ease the cap as it was cut has over the corrected armhole."""
        return self.cap - self.new_armhole

    @property
    def growth(self) -> float:
        """Return how much longer the armhole becomes; negative when shorter."""
        return self.new_armhole - self.old_armhole

    @property
    def room(self) -> float:
        """Return how much longer the armhole may become before the cap has less than its ease."""
        return max(self.old_ease - self.allowed.low, 0.0)

    @property
    def excess(self) -> float:
        """Return how far the new ease lies outside the range; negative below, 0 inside."""
        return self.allowed.excess(self.new_ease)

    @property
    def holds(self) -> bool:
        """Return whether the new ease is allowed."""
        return self.allowed.holds(self.new_ease)


@dataclass(frozen=True)
class SectionAnswer(EaseAnswer):
    """A section of a cap, from mark to mark, and the pieces whose armhole is sewn to it."""

    name: str
    pieces: tuple[str, ...]


@dataclass(frozen=True)
class CapAnswer(EaseAnswer):
    """A cap as it was cut, in all and section by section; each has to hold what it may."""

    sections: tuple[SectionAnswer, ...] = ()

    @property
    def fits(self) -> bool:
        """Return whether the cap can be set into the corrected armhole, mark to mark as it was."""
        return self.holds and all(each.holds for each in self.sections)

    @property
    def moves(self) -> bool:
        """Return whether anything of the armhole becomes longer or shorter."""
        return any(abs(each.growth) > UNCHANGED for each in (self, *self.sections))

    @property
    def notch(self) -> float | None:
        """Return by how much the crown notch has to move for both halves to hold what they may, mm.

        Towards the back where it is positive: the front half becomes longer. None where they hold
        it, or where that does not help. A notch is a mark: it can be moved on cloth that is cut.
        """
        if self.fits or not self.holds or len(self.sections) != 2:
            return None
        front, back = self.sections
        least = max(front.allowed.low - front.new_ease, back.new_ease - back.allowed.high)
        most = min(front.allowed.high - front.new_ease, back.new_ease - back.allowed.low)
        return Band(least, most).nearest(0.0) if least <= most else None

    def room_on(self, piece: str) -> float:
        """Return how much longer the armhole of one piece may become by itself, mm."""
        return min([self.room, *(each.room for each in self.sections if piece in each.pieces)])


def cap_answer(old: Draft, new: Draft) -> CapAnswer | None:
    """Return how the cap cut from `old` sits in the armhole of `new`; None where no sleeve is set.

    The ease allowed is that of the corrected draft, the marks on the cap are those it was cut with.
    """
    if not (old.has_seam(CAP_SEAM) and new.has_seam(CAP_SEAM)):
        return None
    then, now = old.seam(CAP_SEAM), new.seam(CAP_SEAM)
    return CapAnswer(
        run_length(old, then.side),
        run_length(old, then.mate),
        run_length(new, now.mate),
        now.allowed,
        tuple(_sections(old, new)),
    )


def _sections(old: Draft, new: Draft) -> Iterator[SectionAnswer]:
    """Yield each section that the corrected seam has, where its marks are there in both drafts."""
    now, sections = new.seam(CAP_SEAM), sections_of(new, new.seam(CAP_SEAM))
    was, becomes = _ends(old, sections), _ends(new, sections)
    if len(was) != len(sections) + 1 or len(becomes) != len(was):
        return
    runs = list(accumulate((run_length(new, (run,)) for run in now.mate), initial=0.0))
    stretches = zip(sections, pairwise(was), pairwise(becomes), strict=True)
    for section, (before, after), (start, end) in stretches:
        pieces = tuple(
            run.piece
            for run, (low, high) in zip(now.mate, pairwise(runs), strict=True)
            if min(high, end[1]) - max(low, start[1]) > UNCHANGED
        )
        cap, old_mate, new_mate = after[0] - before[0], after[1] - before[1], end[1] - start[1]
        yield SectionAnswer(cap, old_mate, new_mate, section.allowed, section.name, pieces)


def _ends(draft: Draft, sections: tuple[Section, ...]) -> list[tuple[float, float]]:
    """Return how far along cap and armhole each section begins and the last one ends, mm."""
    seam = draft.seam(CAP_SEAM)
    whole = run_length(draft, seam.side), run_length(draft, seam.mate)
    return [(0.0, 0.0), *stations(draft, seam, sections), whole]


@lru_cache(_HOLLOWINGS_AT_HAND)
def most_hollowing(draft: Draft, piece: str, room: float) -> float:
    """Return the most one armhole can be hollowed, where it usually is, within some room, mm.

    It then grows longer by no more than `room`, and its outline stays sound. Raises NoSuchName for
    a piece that is not there.
    """
    scoop = kind_named("scoop-armhole")
    before = draft.edge(piece, "armhole").length

    def growth(by: float) -> float:
        values = {"piece": piece, "by": f"{by:.6f}"}
        after = read_change(scoop, values, Unit.MILLIMETRE).apply(draft)
        return after.edge(piece, "armhole").length - before

    most = MOST
    try:
        most_growth = growth(most)
    except CannotChange as refusal:
        if refusal.largest is None:
            return 0.0
        most = refusal.largest
        most_growth = growth(most)
    if most_growth <= room:
        return most
    low, high = 0.0, most
    while high - low > _FINEST:
        middle = (low + high) / 2
        low, high = (middle, high) if growth(middle) <= room else (low, middle)
    return low
