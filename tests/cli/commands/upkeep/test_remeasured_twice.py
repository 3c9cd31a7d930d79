"""Two makers measure one block anew, and join their work."""

from typing import Any

import pytest

from tests.cli.commands.upkeep.two_makers import asked, assert_whole, mend, node, state
from tests.cli.conftest import BODY, Trueup
from trueup.lineage.files.records import ConflictState

pytestmark = pytest.mark.usefixtures("maker")


def body(trueup: Trueup) -> Any:
    drafted = node(trueup, "village").draft
    assert drafted is not None
    return drafted.body


def test_different_measurements_come_together(ours: Trueup, theirs: Trueup) -> None:
    ours.made("remeasure", "village", "--bust", "93cm")
    theirs.made("remeasure", "village", "--waist", "71cm", "--why", "a year later")
    document = mend(ours, theirs)
    assert body(ours) == {**BODY, "bust": "93cm", "waist": "71cm"}
    assert asked(ours) == []
    says = [each["says"] for each in document["notes"] if each["place"] == "village"]
    assert len(says) == 1
    assert says[0].startswith("measurements (waist 68cm -> 71cm), of Rose Cutter")
    (came,) = document["their_steps"]
    verdicts = {each["name"]: each["verdict"] for each in came["patterns"]}
    assert (came["node"], came["steps"], verdicts["blouse"]) == ("village", [], "carried")
    assert_whole(ours)


def test_the_page_says_what_became_of_it(ours: Trueup, theirs: Trueup) -> None:
    theirs.made("remeasure", "village", "--bust", "93cm")
    ours.made("style", "blouse", "widen-neck", "--by", "10mm")
    out = ours.made("mend", str(theirs.folder)).out
    assert "What became of their re-measuring on village" in out
    assert "measurements (bust 88cm -> 93cm)" in out


def test_one_measurement_written_in_two_ways_is_one(ours: Trueup, theirs: Trueup) -> None:
    ours.made("remeasure", "village", "--bust", "93cm")
    theirs.made("remeasure", "village", "--bust", "930mm")
    mend(ours, theirs)
    assert body(ours)["bust"] == "93cm"
    assert asked(ours) == []


@pytest.mark.parametrize(("remedy", "bust"), [("keep-ours", "92cm"), ("keep-theirs", "94cm")])
def test_one_measurement_taken_in_two_ways_is_asked_about(
    ours: Trueup, theirs: Trueup, remedy: str, bust: str
) -> None:
    ours.made("remeasure", "village", "--bust", "92cm")
    theirs.made("remeasure", "village", "--bust", "94cm")
    mend(ours, theirs)
    (conflict,) = asked(ours)
    assert body(ours)["bust"] == "92cm"
    document = ours.made("decide", conflict.id, remedy, "--why", "asked her", "--json").document
    assert body(ours)["bust"] == bust
    assert state(ours).conflict(conflict.id).state is ConflictState.SETTLED
    verdicts = {each["name"]: each["verdict"] for each in document["patterns"]}
    if bust == "94cm":
        assert verdicts["blouse"] == "carried"
        assert document["correction"]["remeasured"] == [
            {"name": "bust", "before": "92cm", "after": "94cm"}
        ]


def test_measurements_that_are_at_odds_together_are_asked_about(
    ours: Trueup, theirs: Trueup
) -> None:
    # Each can be drafted by itself; the waist of the one is too wide for the bust of the other.
    ours.made("remeasure", "village", "--bust", "76cm")
    theirs.made("remeasure", "village", "--waist", "86cm")
    assert ours("remeasure", "village", "--waist", "86cm", "--preview").code == 2
    mend(ours, theirs)
    (conflict,) = asked(ours)
    assert body(ours) == {**BODY, "bust": "76cm"}
    assert ours("check", "blouse").code in (0, 1)
    ours.made("decide", conflict.id, "keep-theirs")
    assert body(ours) == {**BODY, "waist": "86cm"}
    assert_whole(ours)
