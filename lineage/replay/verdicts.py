"""What became of a correction in one descendant: one verdict, and the numbers behind it. Pure."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from trueup.geometry.sides.naming import read_at
from trueup.geometry.tolerance import MEASURE_SAME, MEASURE_SAME_SHARE, UNCHANGED


class Verdict(StrEnum):
    """What became of a correction in a descendant."""

    CARRIED = "carried"
    PARTLY = "partly"
    LOST = "lost"
    DOUBLED = "doubled"
    CONFLICT = "conflict"
    HELD = "held"


@dataclass(frozen=True)
class MeasureChange:
    """A measure of the corrected node before and after, mm; None where it does not exist."""

    name: str
    before_mm: float | None
    after_mm: float | None

    @property
    def change_mm(self) -> float:
        """Return by how much it changed; a measure that does not exist counts as nought."""
        return (self.after_mm or 0.0) - (self.before_mm or 0.0)


@dataclass(frozen=True)
class Carried:
    """How much of a wanted change of a measure arrived, mm; None where there is no such measure."""

    name: str
    wanted_mm: float
    got_mm: float | None

    @property
    def arrived(self) -> bool:
        """Return whether the whole wanted change arrived."""
        if self.got_mm is None:
            return False
        slack = max(MEASURE_SAME, MEASURE_SAME_SHARE * abs(self.wanted_mm))
        return abs(self.got_mm - self.wanted_mm) <= slack

    @property
    def vanished(self) -> bool:
        """Return whether nothing of it arrived."""
        return self.got_mm is None or abs(self.got_mm) <= UNCHANGED


@dataclass(frozen=True)
class Judged:
    """What became of one correction of a step in a descendant.

    `steps` are the ids of its steps and `kinds` what they are; `note` says what numbers do not.
    """

    steps: tuple[str, ...]
    kinds: str
    verdict: Verdict
    measures: tuple[Carried, ...]
    note: str = ""


_GRAVEST_FIRST = (
    Verdict.HELD,
    Verdict.DOUBLED,
    Verdict.CONFLICT,
    Verdict.LOST,
    Verdict.PARTLY,
    Verdict.CARRIED,
)


def gravest(verdicts: Iterable[Verdict]) -> Verdict:
    """Return the gravest of some verdicts; carried for none."""
    return min(verdicts, key=_GRAVEST_FIRST.index, default=Verdict.CARRIED)


def measure_changes(
    names: Iterable[str], before: Mapping[str, float], after: Mapping[str, float]
) -> tuple[MeasureChange, ...]:
    """Return the named measures that exist before or after, with both values."""
    read = ((name, read_at(before, name), read_at(after, name)) for name in dict.fromkeys(names))
    return tuple(
        MeasureChange(name, was, now) for name, was, now in read if (was, now) != (None, None)
    )


def verdict_of(carried: Sequence[Carried], *, held: bool, doubled: bool, lost: bool) -> Verdict:
    """Return the verdict on one correction: held, doubled, lost, partly or carried, as comes first.

    A correction that changed no measure is carried where it is not `lost`.
    """
    if held:
        return Verdict.HELD
    if doubled:
        return Verdict.DOUBLED
    if lost:
        return Verdict.LOST
    if all(each.arrived for each in carried):
        return Verdict.CARRIED
    return Verdict.PARTLY
