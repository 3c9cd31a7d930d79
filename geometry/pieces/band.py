"""A band: what an amount may be, from a least to a most, and how far beyond still goes."""

from dataclasses import dataclass

from trueup.geometry.tolerance import SAME_LENGTH


@dataclass(frozen=True)
class Band:
    """What an amount may be: `low` to `high`, and within `tolerance` beyond either it still goes.

    All three are mm where the amount is a length, degrees where it is an angle.

    >>> band = Band(25.0, 45.0, 1.6)
    >>> band.excess(20.0), band.excess(30.0), band.excess(46.0)
    (-5.0, 0.0, 1.0)
    >>> band.holds(46.0), band.within_tolerance(46.0), band.holds(47.0)
    (True, True, False)
    """

    low: float = 0.0
    high: float = 0.0
    tolerance: float = 0.0

    def excess(self, amount: float) -> float:
        """Return how far an amount lies outside `low` to `high`: negative below, 0 inside."""
        return amount - self.nearest(amount)

    def nearest(self, amount: float) -> float:
        """Return the amount from `low` to `high` that comes nearest."""
        return min(max(amount, self.low), self.high)

    def holds(self, amount: float) -> bool:
        """Return whether an amount lies from `low` to `high`, or within tolerance beyond."""
        return abs(self.excess(amount)) <= self.tolerance + SAME_LENGTH

    def within_tolerance(self, amount: float) -> bool:
        """Return whether an amount lies beyond `low` to `high`, yet by no more than tolerance."""
        return abs(self.excess(amount)) > SAME_LENGTH and self.holds(amount)

    def moved(self, low: float, high: float) -> "Band":
        """Return the band with its two ends moved by so much each."""
        return Band(self.low + low, self.high + high, self.tolerance)
