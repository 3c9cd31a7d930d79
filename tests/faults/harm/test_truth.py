"""What counts as told falsely, half done or lost, on made-up commands."""

import pytest

from tests.faults.commands import Outcome
from tests.faults.harm.faults import Wrong
from tests.faults.harm.standing import Recorded
from tests.faults.harm.truth import Steps, untrue

FIRST, EDITS, STEP, OTHER = (
    Recorded(letter * 40, letter * 40, 1, subject)
    for letter, subject in (("a", "Start"), ("b", "Edited"), ("c", "Style"), ("d", "Other"))
)
DONE = Steps((FIRST,), (FIRST, STEP), (FIRST, STEP))
ABSENT = Steps((FIRST,), (FIRST, STEP), (FIRST,))
AFTER_EDITS = Steps((FIRST,), (FIRST, EDITS, STEP), (FIRST, EDITS))
NOT_RECORDED = "Cannot write here: no room; nothing was recorded, so try again."
TAKEN_UP = "Your own edits were taken up as a step of their own: a.toml.\n"


def told(
    steps: Steps, code: int, out: str = "", err: str = "", *, several: bool = False
) -> list[Wrong]:
    outcome = Outcome((), code, out, err, 0)
    return [wrong for wrong, _ in untrue(outcome, steps, several=several)]


@pytest.mark.parametrize(
    ("steps", "code", "out", "err"),
    [
        (DONE, 0, "Recorded as cccccccccc.", ""),
        (DONE, 2, "", "The step is recorded as cccccccccc, but a file is behind."),
        (ABSENT, 2, "", NOT_RECORDED),
        (AFTER_EDITS, 2, "", TAKEN_UP + NOT_RECORDED),
        (DONE, -9, "", ""),
        (ABSENT, -9, "", ""),
        (ABSENT, 2, "", "Cannot tell whether the step was recorded: do not repeat it yet."),
    ],
)
def test_what_is_so_may_be_told(steps: Steps, code: int, out: str, err: str) -> None:
    assert told(steps, code, out, err) == []


@pytest.mark.parametrize(
    ("steps", "code", "out", "err", "wrong"),
    [
        (ABSENT, 0, "Recorded as cccccccccc.", "", Wrong.LOST),
        (ABSENT, -9, "Recorded as cccccccccc.", "", Wrong.LOST),
        (DONE, 2, "", NOT_RECORDED, Wrong.TOLD_FALSELY),
        (DONE, 2, "", "The step is recorded as dddddddddd.", Wrong.TOLD_FALSELY),
        (ABSENT, 2, "", "The step is recorded as cccccccccc.", Wrong.TOLD_FALSELY),
        (ABSENT, 3, "", "It is damaged: restore it from a copy.", Wrong.TOLD_FALSELY),
        (ABSENT, 2, "", "Traceback (most recent call last):", Wrong.TOLD_FALSELY),
        (ABSENT, 2, "", "", Wrong.TOLD_FALSELY),
        (AFTER_EDITS, 2, "", NOT_RECORDED, Wrong.TOLD_FALSELY),
        (Steps((FIRST,), (FIRST, STEP), (FIRST, OTHER)), 0, "", "", Wrong.HALF_DONE),
        (Steps((FIRST,), (FIRST, STEP), ()), 2, "", NOT_RECORDED, Wrong.HALF_DONE),
    ],
)
def test_what_is_not_so_is_found(steps: Steps, code: int, out: str, err: str, wrong: Wrong) -> None:
    assert told(steps, code, out, err) == [wrong]


WANTED = (FIRST, EDITS, STEP, OTHER)
STOPPED = Steps((), WANTED, (FIRST, EDITS, STEP))
NOTHING = Steps((), WANTED, ())


@pytest.mark.parametrize(
    ("steps", "code", "err"),
    [
        (STOPPED, 2, "No room; before that 3 steps were recorded, the last as cccccccccc."),
        (Steps((), WANTED, (FIRST,)), 2, "No room; what was done is recorded as aaaaaaaaaa."),
        (STOPPED, 2, "A file could not follow: it is recorded as cccccccccc, the last of 3."),
        (NOTHING, 2, NOT_RECORDED),
        (STOPPED, -9, ""),
        (Steps((), WANTED, WANTED), 0, ""),
    ],
)
def test_of_several_steps_the_count_and_the_last_are_told(
    steps: Steps, code: int, err: str
) -> None:
    assert told(steps, code, err=err, several=True) == []


@pytest.mark.parametrize(
    ("steps", "code", "err", "wrong"),
    [
        (STOPPED, 0, "", Wrong.LOST),
        (STOPPED, 2, NOT_RECORDED, Wrong.TOLD_FALSELY),
        (
            STOPPED,
            2,
            "No room; before that 4 steps were recorded, the last as cccccccccc.",
            Wrong.TOLD_FALSELY,
        ),
        (
            STOPPED,
            2,
            "No room; before that 3 steps were recorded, the last as dddddddddd.",
            Wrong.TOLD_FALSELY,
        ),
        (NOTHING, 2, "No room; it is recorded as cccccccccc.", Wrong.TOLD_FALSELY),
        (
            STOPPED,
            2,
            "A file could not follow: it is recorded as cccccccccc.",
            Wrong.TOLD_FALSELY,
        ),
    ],
)
def test_a_wrong_count_of_several_steps_is_found(
    steps: Steps, code: int, err: str, wrong: Wrong
) -> None:
    assert told(steps, code, err=err, several=True) == [wrong]


@pytest.mark.parametrize("code", [0, -9])
def test_each_of_several_steps_that_is_told_has_to_be_there(code: int) -> None:
    found = WANTED if not code else STOPPED.found
    steps = Steps((), WANTED, found)
    assert told(steps, code, "Recorded as cccccccccc.\n", several=True) == []
    assert told(steps, code, "Recorded as eeeeeeeeee.\n", several=True) == [Wrong.LOST]
