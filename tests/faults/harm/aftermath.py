"""What comes after a command that a fault befell: the next reader, the next writer, and the folder.

A maker who was told that nothing was recorded gives the command again, at once or after a look
round; one whose command was killed looks round first, or goes on with something else.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from tests.faults.cases import NEXT_IN_NEW, NEXT_STEP, Case, Writes
from tests.faults.commands import HANG, Outcome, Workshop
from tests.faults.harm.faults import Wrong
from tests.faults.harm.standing import (
    Chain,
    Recorded,
    chain,
    everything,
    is_part,
    names,
    recorded_names,
    same,
    unwhole,
)
from tests.faults.harm.truth import Steps, Told, untrue
from tests.faults.harm.written import WrittenFile
from tests.faults.watching.orders import Fault, Order

_BY_HAND = "Edited by hand"


@dataclass(frozen=True)
class Undisturbed:
    """What a command does when nothing befalls it, and how things are after the step after it."""

    outcome: Outcome
    before: Chain
    wanted: Chain
    after_next: Chain
    names: frozenset[str]
    file: WrittenFile | None


def next_step(case: Case) -> tuple[str, ...]:
    """Return the step of the next writer."""
    return NEXT_IN_NEW if case.store == "new" else NEXT_STEP


@dataclass(frozen=True)
class Aftermath:
    """One command that a fault befell, in the place where that happened."""

    workshop: Workshop
    case: Case
    words: tuple[str, ...]
    order: Order
    plain: Undisturbed
    outcome: Outcome

    def found(self) -> Iterator[Told]:
        """Yield what is not as promised."""
        try:
            if self.case.writes is Writes.NOTHING:
                yield from self._after_reading()
            elif self.case.writes is Writes.WHOLE:
                yield from self._after_restoring()
            elif self.plain.file is not None:
                yield from self._after_a_file(self.plain.file)
            elif self.order.mode.fault is Fault.ORPHAN:
                yield from self._after_an_orphan()
            else:
                yield from self._after_a_step()
        except ValueError as error:
            yield Wrong.UNWHOLE, f"git cannot read the history: {error}"

    @property
    def _store(self) -> Path:
        return self.workshop.place / self.case.store

    def _chain(self) -> Chain:
        in_words = self.case.writes is Writes.STEPS
        return chain(self._store, self.workshop.environment, in_words=in_words)

    def _everything(self) -> frozenset[str]:
        return everything(self._store, self.workshop.environment)

    # --- a step -------------------------------------------------------------------------------

    def _after_a_step(self) -> Iterator[Told]:
        found, several = self._chain(), self.case.writes is Writes.STEPS
        steps = Steps(self.plain.before, self.plain.wanted, found)
        wrong = list(untrue(self.outcome, steps, several=several))
        yield from wrong
        if any(kind is Wrong.HALF_DONE for kind, _ in wrong):
            return
        reader_first = self.order.at % 2 == 0
        if self._is_half_joined:
            # Whatever else is asked for is refused until that is finished.
            yield from self._the_same_again()
        elif reader_first:
            yield from self._next_reader()
        if reader_first or not self.outcome.is_unclear or not found:
            yield from self._the_same_again()
        yield from self._next_writer()
        if not reader_first:
            yield from self._next_reader()
        yield from self._at_the_end()

    @property
    def _is_half_joined(self) -> bool:
        return (self._store / ".git" / "MERGE_HEAD").exists()

    def _next_reader(self) -> Iterator[Told]:
        before, all_before = self._chain(), self._everything()
        if not before:
            return
        folder = ("-C", self.case.store)
        tree = self.workshop.run("tree", *folder)
        history = self.workshop.run("history", "--json", *folder)
        is_edited = self.case.scene.startswith("edited")
        has_edits = is_edited and len(before) == len(self.plain.before)
        for each in (tree, history):
            if each.code != 0 or each.hung:
                yield Wrong.BLOCKED, f"{each.words[0]} (exit {each.code}): {each.err.strip()}"
            elif _BY_HAND in each.err and not has_edits:
                yield Wrong.TOLD_FALSELY, f"{each.words[0]}: {each.err.strip()}"
        now = self._chain()
        if not self.outcome.is_unclear and not same(before, now):
            yield Wrong.TOLD_FALSELY, f"told not to be recorded, and then it is: {now[-1].subject}"
        if history.code == 0:
            told = [each["commit"] for each in history.document["history"]]
            recorded = self._everything()
            # A git that was left may move the branch while the reader reads.
            if {*told} not in (all_before, recorded) or len(told) != len({*told}):
                yield Wrong.TOLD_FALSELY, f"history tells {len(told)} steps, git {len(recorded)}"

    def _the_same_again(self) -> Iterator[Told]:
        now = self._chain()
        if same(now, self.plain.wanted) or (now and self.case.writes is Writes.STEPS):
            return
        again = self.workshop.run(*self.words)
        if again.code != 0 or again.hung:
            yield Wrong.BLOCKED, f"the same again (exit {again.code}): {again.err.strip()}"
        elif not same(self._chain(), self.plain.wanted):
            subjects = [each.subject for each in self._chain()]
            yield Wrong.HALF_DONE, f"the same again leads to {subjects}"

    def _next_writer(self) -> Iterator[Told]:
        if not self._chain():
            return
        step = self.workshop.run(*next_step(self.case))
        if step.code != 0 or step.hung:
            yield Wrong.BLOCKED, f"the next step (exit {step.code}): {step.err.strip()}"
            return
        *others, last = self._chain()
        is_next = last.subject == self.plain.after_next[-1].subject
        known = self.plain.before, tuple(others), self.plain.wanted
        if not is_next or not is_part(known[0], known[1]) or not is_part(known[1], known[2]):
            subjects = [each.subject for each in (*others, last)]
            yield Wrong.HALF_DONE, f"the next step leads to {subjects}"
        elif self._comes_out_otherwise(others, last):
            yield Wrong.HALF_DONE, "the next step comes out otherwise than without the fault"

    def _comes_out_otherwise(self, others: Sequence[Recorded], last: Recorded) -> bool:
        if self.case.scene == "edited late" and others[-1].commit != self.plain.wanted[-1].commit:
            # A file that was brought to the join is from then on an edit of the latest version, so
            # the step that takes it up no longer names what it was joined with. Its id is another,
            # and so are those of the steps after it, which follow from it.
            return False
        return same(others, self.plain.wanted) and last.content != self.plain.after_next[-1].content

    def _at_the_end(self) -> Iterator[Told]:
        if self._chain() and (trouble := unwhole(self._store, self.workshop.environment)):
            yield Wrong.UNWHOLE, trouble
        yield from self._litter()

    def _litter(self) -> Iterator[Told]:
        left = sorted(names(self._store) - self.plain.names)
        if left:
            # Where the step was not recorded, what it would have taken out is rightly there.
            left = sorted({*left} - recorded_names(self._store, self.workshop.environment))
        if not self.outcome.killed:
            left += [f"tmp/{each.name}" for each in (self.workshop.case / "tmp").iterdir()]
        if left:
            yield Wrong.LITTER, ", ".join(left[:5])

    def _after_an_orphan(self) -> Iterator[Told]:
        """Let others come while the git of a killed command still lives."""
        if self._is_half_joined or not self._chain():
            step = self.workshop.run(*self.words)
        else:
            yield from self._next_reader()
            step = self.workshop.run(*next_step(self.case))
        if self.outcome.watch is not None and not self.outcome.watch.ended(HANG):
            yield Wrong.BLOCKED, "the git that was left does not end"
        if step.code != 0:
            yield Wrong.BLOCKED, f"the next step (exit {step.code}): {step.err.strip()}"
        elif step.words != self.words:
            yield from self._both_once()
        elif not same(self._chain(), self.plain.wanted):
            yield Wrong.HALF_DONE, "beside an orphan the same again does not lead there"
        else:
            yield from self._next_writer()
        yield from self._next_reader()
        yield from self._at_the_end()

    def _both_once(self) -> Iterator[Told]:
        """Find the next step exactly once, and the one that was killed at most once."""
        subjects = [each.subject for each in self._chain()]
        last = self.plain.after_next[-1].subject
        others = [each for each in subjects if each != last]
        wanted = [each.subject for each in self.plain.wanted]
        least = len(self.plain.before)
        if subjects.count(last) != 1 or others != wanted[: max(len(others), least)]:
            yield Wrong.HALF_DONE, f"beside an orphan the next step leads to {subjects}"

    # --- what was damaged ---------------------------------------------------------------------

    def _after_restoring(self) -> Iterator[Told]:
        """Find a wardrobe made whole where that was said, and otherwise by the same again."""
        if self.outcome.code == 0 and (trouble := unwhole(self._store, self.workshop.environment)):
            yield Wrong.LOST, f"said to be whole: {trouble}"
        elif not self.outcome.killed and self.outcome.code not in (0, 2, 3):
            yield Wrong.TOLD_FALSELY, f"(exit {self.outcome.code}) {self.outcome.err[-300:]}"
        elif "Traceback" in self.outcome.err or "did not expect" in self.outcome.err:
            yield Wrong.TOLD_FALSELY, self.outcome.err[-300:]
        again = self.workshop.run(*self.words)
        if self.outcome.watch is not None and not self.outcome.watch.ended(HANG):
            yield Wrong.BLOCKED, "the git that was left does not end"
        if again.code != 0:
            yield Wrong.BLOCKED, f"the same again (exit {again.code}): {again.err.strip()}"
        elif not same(self._chain(), self.plain.wanted):
            yield Wrong.HALF_DONE, "the same again leads to other steps"
        yield from self._next_reader()
        yield from self._next_writer()
        yield from self._at_the_end()

    # --- an answer ----------------------------------------------------------------------------

    def _after_reading(self) -> Iterator[Told]:
        """Find whether one that only reads gives its answer, and who comes next the same."""
        answers = [self.workshop.run(*self.words)]
        if not self.outcome.killed:
            answers.append(self.outcome)
        for each in answers:
            if (each.code, each.out) != (self.plain.outcome.code, self.plain.outcome.out):
                yield Wrong.BLOCKED, f"no answer (exit {each.code}): {each.err.strip()}"
        yield from self._litter()

    # --- a file outside the wardrobe ----------------------------------------------------------

    def _after_a_file(self, file: WrittenFile) -> Iterator[Told]:
        yield from file.untrue(self.outcome, self.plain.outcome.code)
        if not file.is_written():
            again = self.workshop.run(*self.words)
            if again.code != self.plain.outcome.code:
                yield Wrong.BLOCKED, f"the same again (exit {again.code}): {again.err.strip()}"
            elif not file.is_written():
                yield Wrong.HALF_DONE, "the same again does not write the file"
        if left := file.litter():
            yield Wrong.LITTER, ", ".join(left)
        yield from self._litter()
