"""Whether a sleeve cap that is already cut still fits an armhole that grew."""

from dataclasses import dataclass

from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.errors import CannotChange
from trueup.geometry.measuring.measures import CAP_SEAM
from trueup.geometry.measuring.walk import run_length
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit

MOST = 60.0
"""No armhole is hollowed by more, mm."""

_FINEST = 0.01


@dataclass(frozen=True)
class CapAnswer:
    """A cap as it was cut, against the armhole before and after a correction, mm.

    `low` to `high` is the ease the seam allows, and `tolerance` what may be missing beyond it.
    """

    cap: float
    old_armhole: float
    new_armhole: float
    low: float
    high: float
    tolerance: float

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
        return max(self.old_ease - self.low, 0.0)

    @property
    def excess(self) -> float:
        """Return how far the new ease lies outside the range; negative below, 0 inside."""
        return Band(self.low, self.high).excess(self.new_ease)

    @property
    def fits(self) -> bool:
        """Return whether the cap as it was cut can be set into the corrected armhole."""
        return abs(self.excess) <= self.tolerance


def cap_answer(old: Draft, new: Draft) -> CapAnswer | None:
    """Return how the cap cut from `old` sits in the armhole of `new`; None where no sleeve is set.

    The ease allowed is that of the corrected draft.
    """
    if not (old.has_seam(CAP_SEAM) and new.has_seam(CAP_SEAM)):
        return None
    then, now = old.seam(CAP_SEAM), new.seam(CAP_SEAM)
    return CapAnswer(
        run_length(old, then.side),
        run_length(old, then.mate),
        run_length(new, now.mate),
        now.allowed.low,
        now.allowed.high,
        now.allowed.tolerance,
    )


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
