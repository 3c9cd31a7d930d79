import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.tolerance import MEASURE_SAME, MEASURE_SAME_SHARE, UNCHANGED
from lineage.verdicts import (
    Carried,
    MeasureChange,
    Verdict,
    carried_in,
    measure_changes,
    verdict_of,
)

NOTHING = {"held": False, "doubled": False, "in_conflict": False, "lost": False}
amounts = st.floats(-500, 500)


def test_what_was_wanted_is_compared_with_what_arrived():
    wanted = [MeasureChange("front.shoulder", 127.0, 114.3), MeasureChange("x.intake", 20.0, 30.0)]
    found = carried_in(wanted, {"front.shoulder": 130.0}, {"front.shoulder": 117.3})
    assert found == (
        Carried("front.shoulder", pytest.approx(-12.7), pytest.approx(-12.7)),
        Carried("x.intake", 10.0, None),
    )


def test_a_measure_the_correction_did_not_move_asks_nothing_of_a_child():
    wanted = [MeasureChange("front.shoulder", 100.0, 100.0 + UNCHANGED / 2)]
    assert carried_in(wanted, {"front.shoulder": 5.0}, {"front.shoulder": 90.0}) == ()


def test_a_measure_that_came_or_went_counts_in_full():
    assert MeasureChange("x", None, 12.0).change_mm == 12.0
    assert MeasureChange("x", 12.0, None).change_mm == -12.0
    assert carried_in([MeasureChange("x", None, 12.0)], {}, {"x": 12.0})[0].arrived


def test_measures_are_listed_once_and_only_where_they_exist():
    found = measure_changes(["b", "a", "b", "none"], {"a": 1.0}, {"a": 2.0, "b": 3.0})
    assert found == (MeasureChange("b", None, 3.0), MeasureChange("a", 1.0, 2.0))


@given(amounts, amounts)
def test_a_correction_is_never_both_arrived_and_vanished_unless_hardly_there(wanted, got):
    carried = Carried("x", wanted, got)
    slack = max(MEASURE_SAME, MEASURE_SAME_SHARE * abs(wanted))
    assert carried.arrived == (abs(got - wanted) <= slack)
    if carried.arrived and carried.vanished:
        assert abs(wanted) <= slack + UNCHANGED


def test_one_verdict_the_gravest_first():
    arrived, half = (Carried("a", 10.0, 10.0),), (Carried("a", 10.0, 5.0),)
    assert verdict_of(arrived, **NOTHING) is Verdict.CARRIED
    assert verdict_of((*arrived, *half), **NOTHING) is Verdict.PARTLY
    assert verdict_of((), **NOTHING) is Verdict.CARRIED
    assert verdict_of(arrived, **{**NOTHING, "lost": True}) is Verdict.LOST
    assert verdict_of(arrived, **{**NOTHING, "lost": True, "in_conflict": True}) is Verdict.CONFLICT
    assert verdict_of(arrived, **{**NOTHING, "in_conflict": True, "doubled": True}) is (
        Verdict.DOUBLED
    )
    assert verdict_of(arrived, **dict.fromkeys(NOTHING, True)) is Verdict.HELD
