"""Killed at a writing call: the step is whole or absent, and whoever comes next can go on.

`python -m tests.faults.run_all` tries every command at every call; this is a sample of it.
"""

import pytest

from tests.faults.sample import KILLED, Trial, found_in
from tests.faults.trial import Trials


@pytest.mark.parametrize("trial", KILLED, ids=str)
def test_killed_at_a_writing_call_the_wardrobe_is_whole(trials: Trials, trial: Trial) -> None:
    assert [str(each) for each in found_in(trials, trial)] == []
