import pytest
from hypothesis import given
from hypothesis import strategies as st

from trueup.lineage.replay.verdicts import (
    Carried,
    MeasureChange,
    Verdict,
    gravest,
    measure_changes,
    verdict_of,
)

NOTHING = {"held": False, "doubled": False, "lost": False}
amounts = st.floats(-500, 500)


def test_a_measure_that_came_or_went_counts_in_full():
    assert MeasureChange("x", None, 12.0).change_mm == 12.0
    assert MeasureChange("x", 12.0, None).change_mm == -12.0


def test_measures_are_listed_once_and_only_where_they_exist():
    found = measure_changes(["b", "a", "b", "none"], {"a": 1.0}, {"a": 2.0, "b": 3.0})
    assert found == (MeasureChange("b", None, 3.0), MeasureChange("a", 1.0, 2.0))


@given(amounts, amounts)
def test_a_correction_is_never_both_arrived_and_vanished_unless_hardly_there(wanted, got):
    carried = Carried("x", wanted, got)
    slack = max(0.5, 0.02 * abs(wanted))
    assert carried.arrived == (abs(got - wanted) <= slack)
    if carried.arrived and carried.vanished:
        assert abs(wanted) <= slack + 0.05


@pytest.mark.parametrize(
    ("wanted", "got", "arrived", "vanished"),
    [
        (10.0, 9.6, True, False),
        (10.0, 9.4, False, False),
        (-10.0, -10.6, False, False),
        (100.0, 98.1, True, False),
        (100.0, 97.9, False, False),
        (10.0, 0.04, False, True),
        (10.0, -0.06, False, False),
        (10.0, None, False, True),
    ],
)
def test_within_half_a_millimetre_or_two_in_a_hundred_it_arrived(wanted, got, arrived, vanished):
    """What is moved by less than a twentieth of a millimetre has not moved."""
    carried = Carried("x", wanted, got)
    assert (carried.arrived, carried.vanished) == (arrived, vanished)


def test_one_verdict_the_gravest_first():
    arrived, half = (Carried("a", 10.0, 10.0),), (Carried("a", 10.0, 5.0),)
    assert verdict_of(arrived, **NOTHING) is Verdict.CARRIED
    assert verdict_of((*arrived, *half), **NOTHING) is Verdict.PARTLY
    assert verdict_of((), **NOTHING) is Verdict.CARRIED
    assert verdict_of(arrived, **{**NOTHING, "lost": True}) is Verdict.LOST
    assert verdict_of(half, **{**NOTHING, "lost": True, "doubled": True}) is Verdict.DOUBLED
    assert verdict_of(arrived, **dict.fromkeys(NOTHING, True)) is Verdict.HELD


def test_the_verdict_on_several_corrections_is_the_gravest():
    order = ("held", "doubled", "conflict", "lost", "partly", "carried")
    verdicts = [Verdict(each) for each in order]
    for index, each in enumerate(verdicts):
        assert gravest(reversed(verdicts[index:])) is each
    assert gravest([]) is Verdict.CARRIED
