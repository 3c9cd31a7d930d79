"""Remedies offered after random fittings do what they say; a longer run is in `long_run`."""

from collections import Counter

from tests.judging.remedying import remedied

SEEDS = (*range(24), 79, 141)
"""The last two have a remedy by which a cap that fits nowhere any more comes to be worse in all."""


def test_every_remedy_settles_its_conflict_and_says_what_it_leaves():
    found = [remedied(seed) for seed in SEEDS]
    assert [fault for each in found for fault in each.faults] == []
    first: Counter[str] = sum((each.first for each in found), Counter())
    print(f"the first remedy of {first.total()} seam conflicts: {dict(first)}")
    assert first.total() > 10
    assert first["clean"] >= 0.95 * first.total()
