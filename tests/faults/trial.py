"""Try one command with one fault at one of its writing calls."""

import os
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from tests.faults.cases import Case, Writes
from tests.faults.commands import Outcome, Workshop
from tests.faults.harm.aftermath import Aftermath, Undisturbed, next_step
from tests.faults.harm.faults import Finding
from tests.faults.harm.standing import chain, names
from tests.faults.harm.written import WrittenFile
from tests.faults.scenes import Scenes, filled
from tests.faults.watching.orders import Mode, Order, WritingCall


def _spread(numbers: Sequence[int], most: int) -> Sequence[int]:
    """Return so many of the numbers at most, the first and the last among them."""
    if len(numbers) <= most:
        return numbers
    if most == 1:
        return numbers[-1:]
    return [numbers[i * (len(numbers) - 1) // (most - 1)] for i in range(most)]


@dataclass
class Trials:
    """Tries commands in one workshop, at their writing calls in one folder of the case.

    `where` is "place", or what is no part of any step: "cache" or "tmp".
    """

    workshop: Workshop
    scenes: Scenes
    where: str = "place"
    _undisturbed: dict[tuple[str, date], Undisturbed] = field(default_factory=dict)

    def undisturbed(self, case: Case) -> Undisturbed:
        """Return what a command does today when nothing befalls it; a step bears its day."""
        today = date.today()
        if (case.name, today) not in self._undisturbed:
            self._undisturbed[case.name, today] = self._run_through(case)
        return self._undisturbed[case.name, today]

    def _run_through(self, case: Case) -> Undisturbed:
        self.workshop.take(case.scene)
        store, environment = self.workshop.place / case.store, self.workshop.environment
        in_words = case.writes is Writes.STEPS
        before = chain(store, environment, in_words=in_words)
        outcome = self._run(case, None)
        assert not outcome.hung, f"{case.name}: too busy a machine to tell it from one that hangs"
        wanted = chain(store, environment, in_words=in_words)
        file = WrittenFile.of(self.workshop, case)
        after_next, named = wanted, names(store)
        if case.writes in (Writes.STEP, Writes.STEPS, Writes.WHOLE):
            follows = self.workshop.run(*next_step(case))
            assert follows.code == 0, f"{case.name}: {outcome.err}{follows.err}"
            after_next, named = chain(store, environment, in_words=in_words), names(store)
        return Undisturbed(outcome, before, wanted, after_next, named, file)

    def points(self, case: Case, mode: Mode, alike: int | None = None) -> list[int]:
        """Return the numbers of the writing calls that a mode can befall.

        Of calls that are alike, such as those for each object of a step, no more than `alike`.
        """
        found: dict[tuple[str, ...], list[int]] = {}
        for call in self.undisturbed(case).outcome.calls:
            if mode.can_befall(call):
                found.setdefault(call.likeness, []).append(call.number)
        chosen = [_spread(each, alike or len(each)) for each in found.values()]
        return sorted(number for each in chosen for number in each)

    def likeness(self, case: Case, at: int) -> tuple[str, ...]:
        """Return what a writing call of a command has in common with calls like it."""
        return self.undisturbed(case).outcome.calls[at - 1].likeness

    def calls_like(self, case: Case, told: str) -> list[WritingCall]:
        """Return the writing calls of a command in whose text another text stands."""
        return [each for each in self.undisturbed(case).outcome.calls if told in str(each)]

    def try_out(self, case: Case, order: Order) -> list[Finding] | None:
        """Run a command with a fault; returns what is wrong, None where the call never came."""
        began = date.today()
        plain = self.undisturbed(case)
        self.workshop.take(case.scene)
        outcome = self._run(case, order)
        if outcome.hit is None:
            return None
        words = filled(case.words, self.scenes.facts)
        told = list(Aftermath(self.workshop, case, words, order, plain, outcome).found())
        if date.today() != began:
            return self.try_out(case, order)
        return [Finding(case.name, order, outcome.hit, wrong, says) for wrong, says in told]

    def _run(self, case: Case, order: Order | None) -> Outcome:
        words = filled(case.words, self.scenes.facts)
        return self.workshop.run(*words, order=order, watched=[self.where])


@contextmanager
def trials_in_memory(where: str = "place") -> Iterator[Trials]:
    """Prepare a workshop where what waits for the disk waits for nothing."""
    quick = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None
    with (
        tempfile.TemporaryDirectory(prefix="faults-", dir=quick) as folder,
        Workshop(Path(folder)) as workshop,
    ):
        yield Trials(workshop, Scenes(workshop), where)
