"""A measure at each step that changed it."""

from itertools import pairwise

import pytest

from trueup.geometry.errors import NoSuchName
from trueup.lineage.chronicle import Chronicle
from trueup.lineage.chronicle.over_time import over_time
from trueup.lineage.errors import NoSuchNode


def test_a_measure_is_told_at_each_commit_that_changed_it(chronicle: Chronicle) -> None:
    found = over_time(chronicle, "village", ["front.armhole"])
    assert [each.entry.commit.subject for each in found] == [
        "Draft the block village",
        "Correct village: scoop-armhole",
        "Amend village: scoop-armhole",
    ]
    for before, after in pairwise(found):
        assert before.value_mm is not None
        assert after.value_mm is not None
        assert after.change_mm == pytest.approx(after.value_mm - before.value_mm)
    now = chronicle.now.summary("village").measures["front.armhole"]
    assert found[-1].value_mm == pytest.approx(now)


def test_every_value_is_that_of_its_version(chronicle: Chronicle) -> None:
    found = over_time(chronicle, "short", ["sleeve", "front"])
    assert {each.name.partition(".")[0] for each in found} == {"sleeve", "front"}
    for each in found:
        then = chronicle.wardrobe.evaluator_at(each.entry.commit.id).summary("short").measures
        assert each.value_mm == then[each.name]


def test_a_pattern_begins_with_the_step_that_derived_it(chronicle: Chronicle) -> None:
    first, *later = over_time(chronicle, "short", ["front.neck-depth"])
    assert first.entry.commit.subject == "Derive the pattern short from blouse"
    assert first.change_mm is None
    assert [each.change_mm for each in later] == pytest.approx([20.0, -20.0])
    assert [each.entry.node for each in later] == ["blouse", "blouse"]


def test_up_to_an_earlier_version(chronicle: Chronicle) -> None:
    found = over_time(Chronicle(chronicle.wardrobe, "HEAD~1"), "short", ["front.neck-depth"])
    assert len(found) == 2


def test_what_it_never_had_is_refused(chronicle: Chronicle) -> None:
    with pytest.raises(NoSuchName, match=r"front\.armhole"):
        over_time(chronicle, "village", ["front.armhol"])
    with pytest.raises(NoSuchNode):
        over_time(chronicle, "nobody", [])
