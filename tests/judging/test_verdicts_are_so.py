"""Random fittings on random wardrobes: no silent loss, no false verdict."""

import pytest

from tests.judging.trying import tried


@pytest.mark.parametrize("first", range(0, 60, 10))
def test_no_verdict_says_what_is_not_so(first: int) -> None:
    trials = [tried(seed) for seed in range(first, first + 10)]
    assert sum(trial.verdicts for trial in trials)
    assert [fault for trial in trials for fault in trial.faults] == []
