"""The watch itself: it sees every process of a command, and does what it is told to."""

import errno
import os

import pytest

from tests.faults.cases import CASES
from tests.faults.trial import Trials
from tests.faults.watching.orders import MODES, Order, WritingCall
from tests.faults.watching.system_calls import Kind

STYLE = CASES["style"]
REPORT = CASES["report"]


def calls(trials: Trials, name: str = "style") -> tuple[WritingCall, ...]:
    return trials.undisturbed(CASES[name]).outcome.calls


def test_the_calls_of_the_command_and_of_its_gits_are_one_series(trials: Trials) -> None:
    found = calls(trials)
    assert [call.number for call in found] == list(range(1, len(found) + 1))
    assert {call.program.partition(" ")[0] for call in found} == {"python", "git"}
    assert {call.kind for call in found} >= {Kind.OPEN, Kind.WRITE, Kind.SYNC, Kind.MOVE}


def test_two_runs_of_one_command_make_the_same_calls(trials: Trials) -> None:
    trials.workshop.take(STYLE.scene)
    again = trials.workshop.run(*STYLE.words, watched=["place"])
    assert [c.likeness for c in again.calls] == [c.likeness for c in calls(trials)]


def test_what_happens_outside_the_watched_folders_does_not_count(trials: Trials) -> None:
    trials.workshop.take(STYLE.scene)
    outcome = trials.workshop.run(*STYLE.words, watched=["place/out"])
    assert (outcome.code, outcome.calls) == (0, ())


def test_a_kill_ends_the_command_before_the_call_is_made(trials: Trials) -> None:
    for number in (1, len(calls(trials)) // 2):
        trials.workshop.take(STYLE.scene)
        order = Order(MODES["kill"], number)
        outcome = trials.workshop.run(*STYLE.words, order=order, watched=["place"])
        assert outcome.killed
        assert len(outcome.calls) == number
        assert outcome.hit == outcome.calls[-1]


def test_a_torn_file_holds_half_of_what_was_written(trials: Trials) -> None:
    (write,) = trials.calls_like(STYLE, "python: write store/.git/trueup/step.new")
    trials.workshop.take(STYLE.scene)
    order = Order(MODES["tear"], write.number)
    outcome = trials.workshop.run(*STYLE.words, order=order, watched=["place"])
    torn = trials.workshop.place / "store/.git/trueup/step.new"
    assert outcome.killed
    assert torn.stat().st_size > 0
    kept = torn.read_bytes()
    trials.workshop.take(STYLE.scene)
    order = Order(MODES["kill"], write.number + 1)
    trials.workshop.run(*STYLE.words, order=order, watched=["place"])
    whole = torn.read_bytes()
    assert kept == whole[: len(whole) // 2]


@pytest.mark.parametrize("error", [errno.EIO, errno.ENOSPC])
def test_a_failing_call_fails_with_the_error_asked_for(trials: Trials, error: int) -> None:
    (write,) = trials.calls_like(REPORT, "write out/")
    trials.workshop.take(REPORT.scene)
    mode = MODES[f"once-{errno.errorcode[error]}"]
    outcome = trials.workshop.run(*REPORT.words, order=Order(mode, write.number), watched=["place"])
    assert outcome.code == 2
    assert os.strerror(error) in outcome.err


def test_a_git_that_is_left_alone_goes_on_when_its_command_is_killed(trials: Trials) -> None:
    (move,) = trials.calls_like(STYLE, "refs/heads/main.lock ->")
    trials.workshop.take(STYLE.scene)
    order = Order(MODES["orphan"], move.number)
    outcome = trials.workshop.run(*STYLE.words, order=order, watched=["place"])
    assert outcome.killed
    assert outcome.watch is not None
    assert outcome.watch.ended(60)
    assert len(outcome.calls) > move.number
