import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from trueup.geometry.lines.bisection import root_between


@given(st.floats(-5, 5), st.floats(0.1, 10), st.floats(0.1, 10))
def test_it_finds_the_root_that_scipy_finds(shift: float, below: float, above: float) -> None:
    def function(x: float) -> float:
        return math.sinh(x - shift) + (x - shift) ** 3

    low, high = shift - below, shift + above
    found = root_between(function, low, high, 1e-9)
    assert found is not None
    assert found == pytest.approx(brentq(function, low, high), abs=1e-8)


def test_an_end_that_fits_already_is_taken() -> None:
    assert root_between(lambda x: x, 0.0, 3.0, 1e-9) == 0.0


def test_without_a_change_of_sign_there_is_no_root() -> None:
    assert root_between(lambda x: x * x + 1, -1.0, 2.0, 1e-9) is None


def test_it_does_not_creep_where_one_end_is_steep() -> None:
    steps = []

    def function(x: float) -> float:
        steps.append(x)
        return math.expm1(20 * x) - 1

    found = root_between(function, 0.0, 1.0, 1e-9)
    assert found == pytest.approx(math.log(2) / 20, abs=1e-9)
    assert len(steps) < 60
