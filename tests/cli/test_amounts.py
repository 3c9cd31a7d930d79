"""Lengths as a maker reads them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trueup.cli.amounts import before_and_after, degrees
from trueup.geometry.units import Unit, format_length, parse_length


@given(st.floats(-4999, 4999), st.floats(-4999, 4999), st.sampled_from(Unit))
def test_a_printed_change_is_the_difference_of_what_is_printed(before, after, unit):
    told = before_and_after(before, after, unit)
    if format_length(before, unit) == format_length(after, unit):
        assert told == f"{format_length(after, unit)}, as before"
        return
    lengths, _, printed_change = told.partition(" (")
    old, new = (parse_length(each) for each in lengths.split(" -> "))
    assert parse_length(printed_change.rstrip(")")) == pytest.approx(new - old, abs=1e-6)


def test_a_change_that_is_rounded_otherwise_agrees_with_its_numbers():
    assert before_and_after(21.6, 15.3, Unit.CENTIMETRE) == "2.2 cm -> 1.5 cm (-0.7 cm)"


@given(st.floats(0, 360), st.floats(0, 360).map(lambda limit: round(limit, 1)))
def test_an_angle_is_never_told_on_the_other_side_of_its_limit(angle, limit):
    told = float(degrees(angle, limit).removesuffix(" degrees"))
    assert abs(told - angle) <= 0.05 + 1e-9
    assert (told - limit) * (angle - limit) >= 0
    if abs(angle - limit) > 1e-3:
        assert told != limit
