"""trueup diagnose: what it says, proposes and refuses."""

import shlex
from typing import Any

import pytest

from tests.sharing.beginnings import Beginnings

BINDS = ("armhole-binds", "--place", "front.armhole")


@pytest.fixture
def worn(trueup: Any, beginnings: Beginnings) -> Any:
    """A blouse that was cut and worn, and binds."""

    def begin() -> None:
        trueup.made("cut", "blouse", "--name", "summer", "--wearer", "Anna")
        trueup.made("note", "summer", *BINDS, "--amount", "5mm")

    beginnings.begin(trueup.folder, begin)
    return trueup


def diagnosed(trueup: Any, *words: str) -> Any:
    return trueup.made("diagnose", *words, "--json").document


def test_a_symptom_is_diagnosed_in_order_with_its_amounts(trueup: Any) -> None:
    document = diagnosed(trueup, "blouse", "underarm-collapses", "--place", "front.side")
    assert document["node"] == "blouse"
    (found,) = document["diagnoses"]
    assert [each["area"] for each in found["checks"]] == ["shoulder"] * 2 + ["armhole"] * 2
    first = found["checks"][0]
    assert first["typical_mm"] == [6, 13]
    assert first["largest_mm"] == 19
    assert first["amounts"] == "from memory"
    assert first["sources"] == [
        {"tag": "USDA-9", "title": "USDA, Fitting Dresses, rev. May 1946, part 9"}
    ]


def test_the_page_says_what_to_look_at_first_and_proposes_commands(trueup: Any) -> None:
    out = trueup.made("diagnose", "blouse", *BINDS, "--amount", "5mm").out
    assert "1. width across the chest" in out
    assert "from memory" in out
    assert "correct village" not in out  # easy reshaped the armhole after it was drafted
    assert "correct easy scoop-armhole --piece front --by 5mm --preview" in out
    assert "or on blouse alone:" in out


def test_every_proposed_command_runs_as_it_stands_and_writes_nothing(trueup: Any) -> None:
    before = trueup.contents()
    tried = set()
    for symptom in ("shoulder-square", "hip-tight", "cap-puckers", "side-seam-puckers"):
        (found,) = diagnosed(trueup, "own", symptom)["diagnoses"]
        for check in found["checks"]:
            for made in (check["proposed"], check["on_this_pattern_alone"]):
                if made and symptom != "side-seam-puckers":
                    words = shlex.split(made["command"])
                    assert words[:3] == ["trueup", "-C", str(trueup.folder)]
                    assert trueup(*words[3:]).code == 0, made["command"]
                    tried.add(symptom)
    assert tried == {"shoulder-square", "hip-tight", "cap-puckers"}
    assert trueup.contents() == before


@pytest.mark.parametrize(
    ("symptom", "place"),
    [
        ("shoulder-too-long", "front.shoulder"),
        ("armhole-binds", "front.armhole"),
        ("underarm-collapses", "back.shoulder"),
        ("bust-tight", "front.side"),
    ],
)
def test_it_names_the_node_where_one_correction_mends_the_most(
    worn: Any, symptom: str, place: str
) -> None:
    worn.made("note", "summer", symptom, "--place", place, "--amount", "5mm")
    faults = worn.made("shared", "summer", "--json").document["faults"]
    fault = next(each for each in faults if (each["symptom"], each["place"]) == (symptom, place))
    told = diagnosed(worn, "summer", "--note", fault["notes"][-1])["diagnoses"][0]["checks"]
    proposed = [each["proposed"] for each in told if each["shaped_at"] == fault["node"]]
    assert {each["node"] for each in proposed if each} == {fault["best"]}


def test_more_than_is_recommended_is_capped_and_said(trueup: Any) -> None:
    (found,) = diagnosed(trueup, "blouse", *BINDS, "--amount", "2cm")["diagnoses"]
    first = found["checks"][0]
    assert (first["amount_mm"], first["capped"]) == (13, True)
    assert found["amount_mm"] == 20
    out = trueup.made("diagnose", "blouse", *BINDS, "--amount", "2cm").out
    assert "More was seen than is recommended at once" in out
    assert "--by 13mm" in out


def test_a_garment_has_its_open_notes_diagnosed(worn: Any) -> None:
    document = diagnosed(worn, "summer")
    (found,) = document["diagnoses"]
    assert (document["of"], document["node"]) == ("summer", "blouse")
    assert (found["symptom"], found["place"], found["amount_mm"]) == (
        "armhole-binds",
        "front.armhole",
        5,
    )
    assert found["garment"] == "summer"
    assert diagnosed(worn, "blouse")["diagnoses"] == [found]
    assert diagnosed(worn, "summer", "--note", found["note"])["diagnoses"] == [found]


def test_the_cloth_is_read_beside_a_pattern_corrected_since(worn: Any) -> None:
    worn.made("correct", "blouse", "scoop-armhole", "--piece", "front", "--by", "4mm")
    (found,) = diagnosed(worn, "summer")["diagnoses"]
    reading = found["checks"][0]["readings"][0]
    assert reading["measure"] == "front.chest-width"
    assert reading["now_mm"] - reading["cut_mm"] == pytest.approx(-4, abs=0.2)
    assert "as it was cut" in worn.made("diagnose", "summer").out


def test_a_sibling_nobody_complains_of_is_read_beside_it(worn: Any) -> None:
    def siblings() -> list[str]:
        (found,) = diagnosed(worn, "own", "armhole-binds")["diagnoses"]
        return [each["name"] for each in found["checks"][0]["readings"][0]["siblings"]]

    assert siblings() == ["easy", "vest"]
    worn.made("cut", "vest", "--name", "felt")
    assert siblings() == ["vest", "easy"]  # cloth was cut from it, and nobody complains
    worn.made("note", "felt", *BINDS)
    assert siblings() == ["easy"]


def test_a_garment_without_notes_says_so(trueup: Any) -> None:
    trueup.made("cut", "vest", "--name", "felt")
    assert "name a symptom" in trueup.made("diagnose", "felt").out
    assert diagnosed(trueup, "felt")["diagnoses"] == []


def test_free_words_are_answered_with_what_to_look_at(worn: Any) -> None:
    worn.made("note", "summer", "other", "--place", "front.neck", "--words", "it itches")
    found = diagnosed(worn, "summer")["diagnoses"][-1]
    assert (found["symptom"], found["words"], found["checks"]) == ("other", "it itches", [])
    assert found["looks"][0]["fits_place"]
    out = worn.made("diagnose", "summer").out
    assert "Only words are known of this" in out
    assert "neck-gapes" in out


def test_amount_and_place_of_a_note_can_be_asked_otherwise(worn: Any) -> None:
    words = ("summer", "--amount", "3mm", "--place", "back.armhole")
    (found,) = diagnosed(worn, *words)["diagnoses"]
    assert (found["place"], found["amount_mm"]) == ("back.armhole", 3)
    assert found["checks"][0]["proposed"]["values"] == {"piece": "back", "by": "3mm"}


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("bluse",), "blouse"),
        (("blouse", "armhole-bind"), "armhole-binds"),
        (("blouse", "armhole-binds", "--place", "front.armhol"), "front.armhole"),
        (("blouse", "armhole-binds", "--amount", "-5mm"), "above 0"),
        (("blouse", "armhole-binds", "--amount", "much"), "much"),
        (("blouse", "--note", "note-1"), "note-1"),
        (("blouse", "armhole-binds", "--note", "note-1"), "not both"),
    ],
)
def test_bad_input_is_one_sentence(trueup: Any, words: tuple[str, ...], says: str) -> None:
    before = trueup.contents()
    answer = trueup("diagnose", *words)
    assert (answer.code, answer.out) == (2, "")
    assert says in answer.err
    assert answer.err.count("\n") == 1
    assert trueup.contents() == before


def test_a_note_is_diagnosed_on_its_own_garment(worn: Any) -> None:
    note = diagnosed(worn, "summer")["diagnoses"][0]["note"]
    answer = worn("diagnose", "vest", "--note", note)
    assert answer.code == 2
    assert "a fit note of summer, not of vest" in answer.err


def test_a_garment_whose_pattern_is_gone_is_one_sentence(worn: Any) -> None:
    (worn.folder / "patterns/blouse.toml").unlink()
    answer = worn("diagnose", "summer")
    assert answer.code == 2
    assert '"blouse"' in answer.err
    assert answer.err.count("\n") == 1
