"""Whether what a command said of its step is so."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from tests.faults.commands import Outcome
from tests.faults.harm.faults import Wrong
from tests.faults.harm.standing import Chain, is_part, same

_RECORDED_AS = re.compile(r"recorded as ([0-9a-f]{7,})")
_SEVERAL = (
    re.compile(
        r"before that (?P<count>\d+) steps were recorded, the last as (?P<last>[0-9a-f]{7,})"
    ),
    re.compile(r"recorded as (?P<last>[0-9a-f]{7,}), the last of (?P<count>\d+)"),
)
_TOLD_AS_IT_GOES = re.compile(r"^Recorded as ([0-9a-f]{7,})", re.MULTILINE)
_NO_DAMAGE = ("is damaged", "is not a wardrobe", "restore it from a copy")
_DO_NOT_REPEAT = "do not repeat the step"
_TAKEN_UP = "were taken up as a step of their own"

Told = tuple[Wrong, str]


@dataclass(frozen=True)
class Steps:
    """The steps a wardrobe had before a command, should have after it, and has."""

    before: Chain
    wanted: Chain
    found: Chain

    @property
    def is_done(self) -> bool:
        """Whether all of what was asked for is recorded."""
        return same(self.found, self.wanted)

    @property
    def is_partly_done(self) -> bool:
        """Whether some of it is recorded, and not all: edits by hand, and not the step."""
        return not self.is_done and len(self.found) > len(self.before)


def untrue(outcome: Outcome, steps: Steps, *, several: bool = False) -> Iterator[Told]:
    """Yield what a command that records a step, or several one by one, said that is not so."""
    if not is_part(steps.before, steps.found) or not is_part(steps.found, steps.wanted):
        yield Wrong.HALF_DONE, f"the history is {[each.subject for each in steps.found]}"
        return
    if outcome.hung:
        yield Wrong.BLOCKED, "it hangs"
    if several:
        # It tells of each of its steps as it goes.
        told = _TOLD_AS_IT_GOES.findall(outcome.out)
        lost = [each for each in told if not any(s.commit.startswith(each) for s in steps.found)]
        if lost:
            yield Wrong.LOST, f"they were said to be recorded: {lost}"
    elif outcome.killed and outcome.out and not steps.is_done:
        yield Wrong.LOST, f"it was said to be done: {outcome.out.splitlines()[:2]}"
    if outcome.is_unclear:
        return
    if outcome.code == 0:
        if not steps.is_done:
            yield Wrong.LOST, f"it ended as if it was done: {outcome.out.splitlines()[:2]}"
        return
    words = outcome.err.strip()
    if "Traceback" in words or "did not expect" in words or not words or outcome.code < 0:
        yield Wrong.TOLD_FALSELY, f"no sentence (exit {outcome.code}): {words[-300:] or 'nothing'}"
        return
    if outcome.code != 2 or any(each in words for each in _NO_DAMAGE):
        yield Wrong.TOLD_FALSELY, f"a whole wardrobe is called damaged: {words}"
    yield from (_untrue_count if several else _untrue_words)(words, steps)


def _untrue_count(words: str, steps: Steps) -> Iterator[Told]:
    """Judge a command that stopped among its steps: it tells how many there are, and the last."""
    several = next((found for each in _SEVERAL if (found := each.search(words))), None)
    one = _RECORDED_AS.search(words)
    made = steps.found[len(steps.before) :]
    if several is not None:
        is_so = int(several["count"]) == len(made) and made[-1].commit.startswith(several["last"])
    elif one is not None:
        is_so = len(made) == 1 and made[-1].commit.startswith(one.group(1))
    else:
        is_so = not made
    if not is_so:
        yield Wrong.TOLD_FALSELY, f"{len(made)} steps are recorded, and told otherwise: {words}"


def _untrue_words(words: str, steps: Steps) -> Iterator[Told]:
    named = _RECORDED_AS.search(words)
    if steps.is_done:
        if named is None or not steps.found[-1].commit.startswith(named.group(1)):
            yield Wrong.TOLD_FALSELY, f"recorded, and told otherwise: {words}"
        elif "nothing was recorded" in words:
            yield Wrong.TOLD_FALSELY, f"recorded, and told so and otherwise: {words}"
        return
    if named is not None and not steps.is_partly_done:
        yield Wrong.TOLD_FALSELY, f"not recorded, and told otherwise: {words}"
    elif named is not None and _DO_NOT_REPEAT in words:
        yield Wrong.TOLD_FALSELY, f"only edits are recorded, and the step is said to be: {words}"
    elif steps.is_partly_done and _TAKEN_UP not in words and named is None:
        yield Wrong.TOLD_FALSELY, f"edits were recorded without a word: {words}"
