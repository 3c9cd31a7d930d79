"""A sample of all trials, the same each time, small enough for every run of the tests."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tests.faults.cases import CASES, Case, Writes
from tests.faults.harm.faults import Finding
from tests.faults.trial import Trials
from tests.faults.watching.orders import MODES, Fault, Order

_GOLDEN = 0.618033988749895
"""Steps of this share, taken round and round, spread evenly however many there are."""


@dataclass(frozen=True)
class Trial:
    """A command, a kind of fault, and how far along in its writing calls the fault befalls it."""

    case: str
    mode: str
    share: float

    def __str__(self) -> str:
        return f"{self.case}, {self.mode} at {self.share:.0%}"


def _sample(cases: Sequence[Case], modes: Sequence[str]) -> Iterator[Trial]:
    for number, case in enumerate(cases):
        yield Trial(case.name, modes[number % len(modes)], number * _GOLDEN % 1)


_STEPPING = (Writes.STEP, Writes.WHOLE)
_STEPS = [case for case in CASES.values() if case.writes in _STEPPING or case.name == "start"]
_FILES = [case for case in CASES.values() if case.writes is Writes.FILE]
_KILLING = [name for name, mode in MODES.items() if mode.fault in (Fault.KILL, Fault.TEAR)]
_OTHERS = [name for name in MODES if name not in _KILLING]

KILLED = [*_sample(_STEPS[::2], ["kill"]), *_sample(_FILES[::4], _KILLING)]
FAILING = [*_sample(_STEPS[1::2], _OTHERS), *_sample(_FILES[2::4], ["once-EIO", "from-ENOSPC"])]


def found_in(trials: Trials, trial: Trial) -> list[Finding]:
    """Try it, and return what is wrong; of calls that are alike one stands for all."""
    case, mode = CASES[trial.case], MODES[trial.mode]
    points = trials.points(case, mode, alike=1)
    found = trials.try_out(case, Order(mode, points[int(trial.share * len(points))]))
    assert found is not None, "the writing call did not come again"
    return found
