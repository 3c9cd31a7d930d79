"""What can go wrong with bodies and what was measured of them.

BadInput                      asked for something that cannot be done        (exit 2)
├── NoSuchBody                nothing was measured of anybody of this name
├── NothingMeasured           there is no set of measurements, or none of that day
├── MeasuredOtherwise         a set of that day says another length already
├── FollowsABody              a measurement that a block takes from a body's set was given as well
└── NoMeasurement             a name or an amount that is no measurement
"""

from collections.abc import Sequence
from dataclasses import dataclass

from trueup.lineage.errors import BadInput, listed, quoted


@dataclass(eq=False)
class NoSuchBody(BadInput):
    """Nothing was measured of anybody of this name."""

    name: str
    nearest: Sequence[str]

    def __str__(self) -> str:
        start = f'Nothing was measured of "{quoted(self.name)}"'
        if not self.nearest:
            return f"{start}, nor of anybody else; record what was."
        return f"{start}; try {listed(self.nearest)}."


@dataclass(eq=False)
class NothingMeasured(BadInput):
    """There is no set of measurements of a body, or none of that day."""

    body: str
    date: str | None
    days: Sequence[str]

    def __str__(self) -> str:
        on = f" on {quoted(self.date)}" if self.date else ""
        start = f"Nothing was measured of {quoted(self.body)}{on}"
        if not self.days:
            return f"{start}; record what was."
        return f"{start}; there are sets of {listed(self.days)}."


@dataclass(eq=False)
class MeasuredOtherwise(BadInput):
    """A set of that day says another length already."""

    path: str
    date: str
    name: str
    there: str

    def __str__(self) -> str:
        return (
            f"The set of {self.date} in {quoted(self.path)} says {quoted(self.name)} "
            f"{quoted(self.there)} already; give the day on which it was measured anew, or mend "
            "the file where that was a slip of the pen."
        )


@dataclass(eq=False)
class FollowsABody(BadInput):
    """A measurement was given otherwise than the set has it from which a block is drafted."""

    block: str
    body: str
    date: str
    name: str
    there: str

    def __str__(self) -> str:
        return (
            f"{quoted(self.block)} is drafted for {quoted(self.body)}, of whom {quoted(self.name)} "
            f"was measured as {quoted(self.there)} on {self.date}; record what is measured now, "
            "and draft it from that."
        )


@dataclass(eq=False)
class NoMeasurement(BadInput):
    """A name or an amount that is no measurement of a body."""

    said: str
    reason: str

    def __str__(self) -> str:
        return (
            f'"{quoted(self.said)[:60]}" is no measurement of a body: {self.reason}; '
            "write a name and a length, as in ankle=23cm."
        )
