"""trueup measure --over-time: what a measure was, and which step changed it."""

from typing import Any

import pytest


def test_each_change_is_told_with_the_step_that_made_it(corrected: Any) -> None:
    step = corrected.step_of("village")
    corrected.made("amend", "village", step, "--by", "12mm")
    out = corrected.made("measure", "blouse", "front.armhole", "--over-time").out
    lines = out.splitlines()
    assert lines[0] == "front.armhole of blouse, oldest first"
    assert "Derive the pattern blouse from easy" in lines[2]
    assert "easy: lengthen the shoulder by 0.5 cm" in lines[3]
    hollow = (
        "village: hollow the armhole of the front by {} cm at 55% of the way from the shoulder "
        "point ({})"
    )
    assert hollow.format(2, step) in lines[4]
    assert hollow.format(1.2, step) in lines[5]
    assert len(lines) == 6


def test_values_and_changes_agree(corrected: Any) -> None:
    told = corrected.made("measure", "village", "sleeve.cap-ease", "--over-time", "--json").document
    first, second = told["over_time"]
    assert first["change_mm"] is None
    assert second["change_mm"] == pytest.approx(second["value_mm"] - first["value_mm"], abs=1e-5)
    assert second["by_node"] == "village"
    assert [each["id"] for each in second["by_steps"]] == [corrected.step_of("village")]
    now = corrected.made("measure", "village", "sleeve.cap-ease", "--json").document["measures"]
    assert second["value_mm"] == now["sleeve.cap-ease"]


def test_a_group_of_measures_has_a_table_each(corrected: Any) -> None:
    out = corrected.made("measure", "village", "front", "--over-time").out
    assert "front.armhole of village, oldest first" in out
    assert "front.chest-width of village, oldest first" in out
    assert "sleeve" not in out.replace("sleeve-length", "")


def test_up_to_an_earlier_version(corrected: Any) -> None:
    words = ("measure", "village", "front.armhole", "--over-time", "--json", "--as-of", "HEAD~1")
    assert len(corrected.made(*words).document["over_time"]) == 1


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("nobody",), 'There is no block or pattern "nobody"'),
        (("village", "front.nose"), '"front.nose" is not a measure of village'),
        (("village", "--as-of", "nope"), 'There is no version "nope"'),
    ],
)
def test_what_is_not_there_is_told_in_one_sentence(
    corrected: Any, words: tuple[str, ...], sentence: str
) -> None:
    answer = corrected("measure", *words, "--over-time")
    assert (answer.code, answer.out) == (2, "")
    assert sentence in answer.err
