"""The watch itself: what it must see, it sees. Without this the ordeals could not fail."""

import os
import subprocess

import pytest

from tests.strangers.ordeal import READING, Case, faults, undergo
from tests.strangers.watched import Watched, can_watch
from tests.warm import Answer, environment

pytestmark = pytest.mark.skipif(not can_watch(), reason="strace is not to be had here")


@pytest.fixture(autouse=True)
def _seen_so_far(trueup: Watched) -> None:
    trueup.misdeeds([], [])


def test_a_clean_wardrobe_shows_no_misdeed(
    trueup: Watched, case: Case, clean: list[Answer]
) -> None:
    trueup.misdeeds([], [])
    answers = undergo(trueup, case)
    assert faults(answers, clean) == []
    assert trueup.misdeeds([case.clone], [case.folder]) == []


def test_a_file_written_outside_is_seen(trueup: Watched, case: Case) -> None:
    trueup("-C", str(case.folder), "export", "blouse", str(case.outside / "new.svg"))
    found = trueup.misdeeds([case.clone], [case.folder])
    assert any(str(case.outside / "new.svg") in deed for deed in found)


def test_a_file_read_outside_is_seen(trueup: Watched, case: Case) -> None:
    trueup("-C", str(case.folder), "correct", "village", "--from", str(case.canary))
    assert f"openat {case.canary}" in trueup.misdeeds([case.clone], [case.folder])


def test_a_file_read_through_a_link_is_seen(trueup: Watched, case: Case) -> None:
    (case.folder / "fitting.toml").symlink_to(case.canary)
    trueup(
        "-C", str(case.folder), "correct", "village", "--from", str(case.folder / "fitting.toml")
    )
    assert f"openat {case.canary}" in trueup.misdeeds([case.clone], [case.folder])


def test_a_clone_may_be_read_and_not_written(trueup: Watched, case: Case) -> None:
    trueup("-C", str(case.clone), "style", "vest", "lengthen", "--by", "1mm")
    found = trueup.misdeeds([case.clone], [case.folder])
    assert any(str(case.clone) in deed for deed in found)


def test_an_answer_that_is_another_is_seen(
    trueup: Watched, case: Case, clean: list[Answer]
) -> None:
    trueup("-C", str(case.folder), "style", "blouse", "lengthen", "--by", "1cm")
    answers = [trueup("-C", str(case.folder), *words) for words in READING]
    found = faults(answers, clean)
    assert len(found) == 2, found


def test_a_pipe_that_is_waited_for_is_seen(trueup: Watched, case: Case) -> None:
    """A fitting is the maker's own, and may be a pipe; here it only stands for what may not."""
    os.mkfifo(case.outside / "pipe")
    reading = f"exec 3< {case.outside}/pipe"
    with pytest.raises(subprocess.TimeoutExpired):
        subprocess.run(
            ["sh", "-c", reading], timeout=0.5, env=environment(case.outside), check=False
        )
