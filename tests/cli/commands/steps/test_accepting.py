"""Whatever check finds has an id and can be accepted, from whichever step it came."""

import re
import tomllib
from typing import Any

import click
import pytest
import typer

from tests.cli.trouble.test_bad_input import refused
from tests.sharing.beginnings import Beginnings
from trueup.cli.options import completion

VENT = "longer behind, over a vent"


@pytest.fixture
def longer(trueup: Any, beginnings: Beginnings) -> Any:
    """The wardrobe with a blouse whose back was made 12 mm longer than its front, for looks."""

    def begin() -> None:
        trueup.made("style", "blouse", "true-hem", "--piece", "back", "--by", "12mm")

    beginnings.begin(trueup.folder, begin)
    return trueup


def found(wardrobe: Any, node: str, code: str = "seam") -> Any:
    findings = wardrobe("check", node, "--json").document["findings"]
    (one,) = [each for each in findings if each["code"] == code]
    return one


def recorded(wardrobe: Any, name: str) -> Any:
    text = (wardrobe.folder / f"patterns/{name}.toml").read_text()
    return tomllib.loads(text)["conflicts"]


def accept(wardrobe: Any) -> str:
    name = str(found(wardrobe, "blouse")["id"])
    wardrobe.made("decide", name, "accept", "--why", VENT)
    return name


def test_what_a_style_leaves_uneven_is_found_by_an_id_and_accepted(longer: Any) -> None:
    answer = longer("check", "blouse")
    name = found(longer, "blouse")["id"]
    assert answer.code == 1
    assert f"{name} at blouse" in answer.out
    assert f"decide {name} accept --why ..." in answer.out
    assert longer("conflicts").code == 0
    longer.made("decide", name, "accept", "--why", VENT)
    answer = longer.made("check", "blouse")
    assert ". accepted: the back side seam is 1.2 cm longer than the front side seam" in answer.out
    assert VENT in answer.out
    assert "true: nothing is open (1 accepted)" in answer.out
    (record,) = recorded(longer, "blouse")
    assert (record["id"], record["state"]) == (name, "accepted")
    (decision,) = record["decisions"]
    assert decision["why"] == VENT
    assert decision["accepted_excess"] == pytest.approx(12, abs=0.01)
    assert abs(decision["accepted_at_mm"]) == pytest.approx(12, abs=0.01)
    assert found(longer, "blouse")["id"] == name


def test_the_id_stays_the_same_for_the_same_trouble(longer: Any) -> None:
    before = found(longer, "blouse")["id"]
    longer.made("style", "blouse", "lengthen", "--by", "30mm")
    longer.made("style", "blouse", "true-hem", "--piece", "back", "--by", "3mm")
    assert found(longer, "blouse")["id"] == before


def test_a_pattern_below_shows_what_was_accepted_above(longer: Any) -> None:
    longer.made("derive", "shirt", "--from", "blouse")
    above = found(longer, "shirt")
    assert above["arose_at"] == "blouse"
    assert ", inherited" in longer("check", "shirt").out
    accept(longer)
    longer.made("check", "shirt")
    assert found(longer, "shirt")["accepted"]


def test_worse_opens_again_and_back_at_the_amount_is_accepted_again(longer: Any) -> None:
    name = accept(longer)
    worse = longer.made("correct", "blouse", "true-hem", "--piece", "back", "--by", "5mm")
    assert name in worse.out
    answer = longer("conflicts", "blouse", "--json")
    assert answer.code == 1
    assert [each["id"] for each in answer.document["conflicts"]] == [name]
    assert longer("check", "blouse").code == 1
    back = longer.made("correct", "blouse", "true-hem", "--piece", "back", "--by", "-5mm")
    settled = back.out.partition("Settled by it\n")[2]
    assert re.match(rf" +blouse: .*\({name}\)$", settled, re.MULTILINE)
    assert longer.made("check", "blouse").out.count("accepted") >= 1
    (record,) = recorded(longer, "blouse")
    assert record["state"] == "accepted"
    assert record["excess_mm"] == pytest.approx(12, abs=0.01)
    assert longer("conflicts").code == 0


def test_better_stays_accepted_and_so_does_what_never_changed(longer: Any) -> None:
    name = accept(longer)
    for by in ("-5mm", "5mm"):
        longer.made("correct", "blouse", "true-hem", "--piece", "back", "--by", by)
        assert found(longer, "blouse")["accepted"]
    for _ in range(2):
        longer.made("correct", "village", "lower-neck", "--piece", "front", "--by", "3mm")
    longer.made("style", "blouse", "lengthen", "--by", "30mm")
    assert found(longer, "blouse")["accepted"]
    assert longer("conflicts", "blouse").code == 0
    assert len(recorded(longer, "blouse")) == 1
    assert name in refused(longer, "decide", name, "accept")


def test_what_was_mended_and_comes_back_is_asked_about_anew(longer: Any) -> None:
    name = accept(longer)
    longer.made("correct", "blouse", "true-hem", "--piece", "back", "--by", "-12mm")
    assert longer.made("check", "blouse", "--json").document["findings"] == []
    longer.made("drop", "blouse", longer.step_of("blouse"))
    one = found(longer, "blouse")
    assert (one["id"], one["accepted"]) == (name, False)


def test_a_finding_shows_its_remedies_and_takes_one(longer: Any) -> None:
    name = found(longer, "blouse")["id"]
    answer = longer("conflicts", name)
    assert answer.code == 1
    assert f"decide {name} true-hem" in answer.out
    assert "ease -1.2 cm; allowed 0 cm to 0 cm" in answer.out
    longer.made("decide", name, "true-hem")
    assert longer.made("check", "blouse").out.startswith("blouse is true")


def test_accepting_one_thing_leaves_the_others_open(longer: Any) -> None:
    longer.made("style", "blouse", "slope-shoulder", "--by", "20mm")
    findings = longer("check", "blouse", "--json").document["findings"]
    side, cap = (next(f for f in findings if f["edge"] == edge) for edge in ("side", "cap"))
    assert side["id"] != cap["id"]
    longer.made("decide", side["id"], "accept", "--why", VENT)
    answer = longer("check", "blouse")
    assert answer.code == 1
    assert "1 thing is open at blouse" in answer.out
    longer.made("decide", cap["id"], "refit-cap")
    longer.made("check", "blouse")


def test_findings_complete(longer: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    name = found(longer, "blouse")["id"]
    monkeypatch.chdir(longer.folder)
    context = typer.Context(click.Command("decide"))
    assert name in completion.conflicts(context, name[:7])
    context.params["conflict"] = name
    assert {"true-hem", "accept"} <= set(completion.remedies(context, ""))


def test_an_id_nobody_has_is_refused_as_before(longer: Any) -> None:
    assert "seam-00000000" in refused(longer, "decide", "seam-00000000", "accept")
