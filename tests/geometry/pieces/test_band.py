import pytest
from hypothesis import given
from hypothesis import strategies as st

from trueup.geometry.pieces.band import Band

BAND = Band(25.0, 45.0, 1.6)


@pytest.mark.parametrize(
    ("amount", "excess", "holds", "by_tolerance"),
    [
        (20.0, -5.0, False, False),
        (23.4, -1.6, True, True),
        (25.0, 0.0, True, False),
        (45.0, 0.0, True, False),
        (46.0, 1.0, True, True),
        (47.0, 2.0, False, False),
    ],
)
def test_an_amount_is_judged_by_range_and_tolerance(amount, excess, holds, by_tolerance):
    assert BAND.excess(amount) == pytest.approx(excess)
    assert BAND.holds(amount) is holds
    assert BAND.within_tolerance(amount) is by_tolerance


@given(st.floats(-500, 500))
def test_the_nearest_amount_is_allowed_and_as_far_off_as_is_said(amount):
    near = BAND.nearest(amount)
    assert BAND.excess(near) == 0
    assert amount - near == BAND.excess(amount)
