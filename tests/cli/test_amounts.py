"""Lengths as a maker reads them, in tables and in sentences."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trueup.cli.amounts import before_and_after, length, retold
from trueup.geometry.units import Unit, parse_length


@pytest.mark.parametrize(
    ("says", "in_cm", "in_inches"),
    [
        ("the ease is 16.0 mm; 25.0 to 45.0 mm are allowed", "the ease is 1.6 cm; 2.5 cm to 4.5 cm "
         "are allowed", 'the ease is 5/8 in; 1 in to 1 3/4 in are allowed'),
        ("redraw the cap by +15.2 mm in width", "redraw the cap by +1.5 cm in width",
         "redraw the cap by +5/8 in in width"),
        ("front.bust.leg 118.1 -> 190.8 mm", "front.bust.leg 11.8 cm -> 19.1 cm",
         "front.bust.leg 4 5/8 in -> 7 1/2 in"),
        ("it is 5 mm, not more", "it is 0.5 cm, not more", "it is 3/16 in, not more"),
        ("the line kinks by 12.0 degrees", "the line kinks by 12.0 degrees",
         "the line kinks by 12.0 degrees"),
        ("seam-28877bcf at front.side", "seam-28877bcf at front.side",
         "seam-28877bcf at front.side"),
    ],
)  # fmt: skip
def test_a_sentence_is_retold_in_the_unit_of_the_wardrobe(says, in_cm, in_inches):
    assert retold(says, Unit.MILLIMETRE) == says
    assert retold(says, Unit.CENTIMETRE) == in_cm
    assert retold(says, Unit.INCH) == in_inches


@given(st.floats(-9999, 9999), st.sampled_from([Unit.CENTIMETRE, Unit.INCH]))
def test_no_length_of_a_sentence_stays_in_mm(mm, unit):
    told = retold(f"it is {mm:.1f} mm long", unit)
    assert "mm" not in told
    assert told == f"it is {length(float(f'{mm:.1f}'), unit)} long"


@given(st.floats(-4999, 4999), st.floats(-4999, 4999), st.sampled_from(Unit))
def test_a_printed_change_is_the_difference_of_what_is_printed(before, after, unit):
    lengths, _, printed_change = before_and_after(before, after, unit).partition(" (")
    old, new = (parse_length(each) for each in lengths.split(" -> "))
    assert parse_length(printed_change.rstrip(")")) == pytest.approx(new - old, abs=1e-6)


def test_a_change_that_is_rounded_otherwise_agrees_with_its_numbers():
    assert before_and_after(21.6, 15.3, Unit.CENTIMETRE) == "2.2 cm -> 1.5 cm (-0.7 cm)"


@given(st.text(max_size=40))
def test_a_sentence_without_a_length_stays_as_it_is(words):
    if "mm" not in words:
        assert retold(words, Unit.INCH) == words
