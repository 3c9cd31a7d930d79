"""What became of a step is told by urgency, and in how many patterns all of it arrived."""

import re
from typing import Any

import pytest

NARROW = ("correct", "village", "shorten-shoulder", "--by", "2mm", "--preview")
HOLLOW = ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm", "--preview")
ORDER = ("conflict", "lost", "partly", "doubled", "held", "carried")


def told(trueup: Any, words: tuple[str, ...]) -> tuple[list[dict[str, Any]], list[str], str]:
    """Return the descendants, the names with a row of their own, and what is told of all others."""
    patterns = trueup.made(*words, "--json").document["patterns"]
    out = trueup.made(*words).out
    rows = re.findall(r"^([a-z]+) +[!~=2+-] [a-z]+ ", out, re.MULTILINE)
    folded = re.search(r"^\+ \d+ carried.*$(\n  .*$)*", out, re.MULTILINE)
    return patterns, rows, folded[0] if folded else ""


def is_exception(pattern: dict[str, Any]) -> bool:
    return bool(pattern["verdict"] != "carried" or pattern["conflicts"] or pattern["inherits"])


@pytest.mark.parametrize("words", [NARROW, HOLLOW])
def test_each_descendant_has_a_row_or_is_among_those_that_are_folded(
    trueup: Any, words: tuple[str, ...]
) -> None:
    patterns, rows, folded = told(trueup, words)
    assert sorted(rows) == sorted(each["name"] for each in patterns if is_exception(each))
    verdicts = {each["name"]: each["verdict"] for each in patterns}
    waits = {each["name"]: not each["conflicts"] for each in patterns}
    assert rows == sorted(rows, key=lambda name: (waits[name], ORDER.index(verdicts[name])))
    quiet = [each["name"] for each in patterns if not is_exception(each)]
    assert bool(folded) is bool(quiet)
    assert all(re.search(rf"\b{name}\b", folded) for name in quiet)
    assert f"+ {len(quiet)} carried" in folded or not quiet


def test_of_what_is_folded_it_is_told_how_much_arrived(trueup: Any) -> None:
    patterns, _, folded = told(trueup, NARROW)
    quiet = [each for each in patterns if not is_exception(each)]
    assert len(quiet) > 1
    for name in {measure["name"] for each in quiet for measure in each["measures"]}:
        assert f"  {name} -0.2 cm / -0.2 cm" in folded


def test_the_matter_of_a_conflict_comes_before_its_id(trueup: Any) -> None:
    out = trueup.made(*HOLLOW).out
    document = trueup.made(*HOLLOW, "--json").document
    found = [c for each in document["patterns"] for c in each["conflicts"]]
    assert found
    for each in found:
        lines = [line for line in out.splitlines() if f"({each['id']})" in line]
        assert any(re.fullmatch(rf"{each['arose_at']}: .+ \(.*\)", line) for line in lines)
