"""Writing calls at which a fault once did harm: a step lost, told falsely, or in the way."""

import pytest

from tests.faults.cases import CASES
from tests.faults.trial import Trials
from tests.faults.watching.orders import MODES, Order

LOG_OF_HEAD = "git update-ref: write store/.git/logs/HEAD"

FOUND = [
    # The branch has moved and git says it has not.
    ("style", "once-EIO", LOG_OF_HEAD),
    ("correct, after edits", "from-ENOSPC", LOG_OF_HEAD),
    ("undo", "once-EACCES", "git update-ref: openat store/.git/logs/HEAD"),
    # A git that is killed leaves its lock to all who come after it.
    ("style", "kill", "git update-ref: write store/.git/refs/heads/main.lock"),
    ("note --photo", "kill", LOG_OF_HEAD),
    ("style", "kill-git", "git update-ref: openat store/.git/HEAD.lock"),
    ("undo", "once-EIO", "git update-ref: unlink store/.git/HEAD.lock"),
    # It was called damage.
    ("style", "once-EIO", "git update-ref: rename store/.git/refs/heads/main.lock"),
    ("style", "kill-git", "git update-ref: write store/.git/refs/heads/main.lock"),
    # A new wardrobe has begun, and the folder it was prepared in stayed in it.
    ("start", "kill", "-> new/.gitattributes"),
    ("start", "once-EIO", "python: openat new/.git/trueup/gits"),
    ("start", "once-EIO", "git init: write new/.trueup-start-"),
    # A file that was made ready to stand in for a damaged one stayed beside it.
    ("restore", "kill", "python: unlink store/.git/trueup/restoring-"),
    # The lines that were being joined stayed there.
    ("mend, half joined", "kill", "python: write store/.git/trueup/merging"),
    # What was not finished was put among git's objects.
    ("style", "kill-git", "git unpack-objects: fsync"),
    ("style", "once-EACCES", "git fast-import: unlink"),
]


@pytest.mark.parametrize(("name", "mode", "told"), FOUND)
def test_it_does_no_harm_any_more(trials: Trials, name: str, mode: str, told: str) -> None:
    case = CASES[name]
    at = trials.calls_like(case, told)[-1].number
    found = trials.try_out(case, Order(MODES[mode], at))
    assert found is not None
    assert [str(each) for each in found] == []


def test_nothing_stays_by_which_git_tried_what_the_disk_can(trials: Trials) -> None:
    case = CASES["start"]
    for call in trials.calls_like(case, "git init: unlink"):
        found = trials.try_out(case, Order(MODES["once-EIO"], call.number))
        assert found is not None
        assert [str(each) for each in found] == []


@pytest.mark.parametrize("name", ["style, after edits", "note, after edits"])
@pytest.mark.parametrize("mode", ["once-EIO", "from-EROFS"])
def test_who_has_only_edits_recorded_is_not_told_to_leave_the_step(
    trials: Trials, name: str, mode: str
) -> None:
    case = CASES[name]
    first = trials.calls_like(case, "rename store/.git/trueup/index.lock")[0]
    found = trials.try_out(case, Order(MODES[mode], first.number))
    assert found is not None
    assert [str(each) for each in found] == []
