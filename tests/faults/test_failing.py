"""A writing call fails, or the git that makes it dies: what is told is so, nothing is half done.

`python -m tests.faults.run_all` tries every command at every call; this is a sample of it.
"""

import pytest

from tests.faults.sample import FAILING, Trial, found_in
from tests.faults.trial import Trials


@pytest.mark.parametrize("trial", FAILING, ids=str)
def test_what_is_told_of_a_failed_writing_call_is_so(trials: Trials, trial: Trial) -> None:
    assert [str(each) for each in found_in(trials, trial)] == []
