"""What a graft takes over, later: in its history and audit, and in who shares the fault of it."""

from typing import Any

import pytest

from tests.sharing.beginnings import Beginnings

ADA = ("--bust", "100cm", "--waist", "84cm", "--back-length", "40cm", "--sleeve-length", "57cm")


@pytest.fixture
def followed(trueup: Any, beginnings: Beginnings) -> Any:
    """Give a graft whose style went on since: two steps, one amended, one taken out again."""

    def begin() -> None:
        trueup.made("draft", "ada", *ADA)
        trueup.made("style", "blouse", "lengthen", "--by", "12% of waist")
        trueup.made("graft", "blouse", "--onto", "ada", "--as", "adas", "--why", "for Ada")
        trueup.made("style", "blouse", "widen-neck", "--by", "1cm", "--why", "it sat too close")
        trueup.made("amend", "blouse", trueup.step_of("blouse"), "--by", "12mm")
        trueup.made("style", "easy", "taper-side", "--level", "waist", "--by", "5mm")
        trueup.made("drop", "easy", trueup.step_of("easy"))
        trueup.made("correct", "blouse", "lower-neck", "--piece", "back", "--by", "2mm")
        trueup.made("correct", "village", "add-ease", "--by", "4mm")

    beginnings.begin(trueup.folder, begin)
    return trueup


LATER = [
    "Drop from easy: taper-side",
    "Style easy: taper-side",
    "Amend blouse: widen-neck",
    "Style blouse: widen-neck",
    "Graft blouse onto ada as adas",
]


def test_its_history_lists_what_was_changed_of_its_style_since_and_nothing_else(
    followed: Any,
) -> None:
    document = followed.made("history", "adas", "--json").document
    assert [each["says"] for each in document["history"]] == LATER
    assert document["chain"] == []
    assert [(each["taken_from"], each["kind"]) for each in document["taken_over"]] == [
        ("easy", "shorten-shoulder"),
        ("blouse", "lower-neck"),
        ("blouse", "lengthen"),
        ("blouse", "widen-neck"),
    ]
    out = followed.made("history", "adas").out
    chain, done = out.split("What was done")
    row = next(line for line in chain.splitlines() if "widen the neck" in line)
    assert row.endswith(f"it sat too close  {followed.step_of('blouse', -2)}  blouse")
    assert done.count("Style blouse") == 1
    assert "it sat too close" in done


def test_its_audit_tells_the_same(followed: Any) -> None:
    document = followed.made("report", "adas", "--json").document
    assert [each["says"] for each in document["history"]] == LATER
    (node,) = document["nodes"]
    assert [each["says"] for each in node["taken_over"]][2:] == [
        "lengthen front and back by 10.1 cm (by: 12% of waist)",
        "widen the neck by 1.2 cm",
    ]
    out = followed.made("report", "adas").out
    assert "| widen the neck by 1.2 cm |" in out
    assert "| it sat too close | blouse |" in out


def test_a_step_left_out_or_stood_in_for_is_not_told_twice(followed: Any) -> None:
    widen = followed.step_of("blouse", -2)
    followed.made("amend", "adas", widen, "--by", "6mm")
    chain = followed.made("history", "adas").out.split("What was done")[0]
    (row,) = [line for line in chain.splitlines() if widen in line]
    assert "by 0.6 cm" in row
    followed.made("amend", "blouse", widen, "--by", "15mm")
    document = followed.made("history", "adas", "--json").document
    # It has an amount of its own, so the other one of its style changes nothing here.
    assert [each["says"] for each in document["history"]] == ["Amend adas: widen-neck", *LATER]


def test_a_graft_that_stays_on_a_version_lists_nothing_later(trueup: Any) -> None:
    trueup.made("draft", "ada", *ADA)
    trueup.made("graft", "blouse", "--onto", "ada", "--as", "adas")
    file = trueup.folder / "patterns/adas.toml"
    version = trueup.made("history", "--json").document["history"][0]["commit"]
    text = file.read_text("utf-8").replace(
        'name = "blouse"', f'name = "blouse"\nhold = "{version}"'
    )
    file.write_text(text, "utf-8")
    trueup.made("keep")
    trueup.made("style", "blouse", "widen-neck", "--by", "1cm")
    subjects = [e["says"] for e in trueup.made("history", "adas", "--json").document["history"]]
    assert not [each for each in subjects if each.startswith("Style")]


def cut_and_noted(trueup: Any) -> None:
    trueup.made("derive", "adas-short", "--from", "adas")
    for garment, pattern in (("first", "adas"), ("short", "adas-short"), ("beas", "blouse")):
        trueup.made("cut", pattern, "--name", garment)
        trueup.made("note", garment, "neck-tight", "--place", "front.neck")


@pytest.mark.parametrize("asked", ["first", "short", "beas"])
def test_a_fault_of_a_step_is_shared_by_all_that_was_cut_with_it_on_any_body(
    followed: Any, asked: str
) -> None:
    cut_and_noted(followed)
    widen = followed.step_of("blouse", -2)
    (fault,) = followed.made("shared", asked, "--json").document["faults"]
    assert fault["node"] == "blouse"
    assert fault["step"]["id"] == widen
    assert {each["name"] for each in fault["garments"]} == {"first", "short", "beas"}
    assert {*fault["patterns"]} == {"blouse", "adas", "adas-short"}
    assert len(fault["notes"]) == 3
    (last,) = [rank for rank in fault["ranks"] if rank["step"]]
    assert (last["node"], last["step"]) == ("blouse", widen)
    assert {*last["garments"]} == {"first", "short", "beas"}
    out = followed.made("shared", asked).out
    assert f"amend blouse {widen} --help" in out
    (cause,) = followed.made("shared", "--all", "--json").document["causes"]
    assert {*cause["garments"]} == {"first", "short", "beas"}


def test_mended_by_that_step_it_is_mended_in_all(followed: Any) -> None:
    cut_and_noted(followed)
    widen = followed.step_of("blouse", -2)
    followed.made("amend", "blouse", widen, "--by", "20mm")
    (fault,) = followed.made("shared", "first", "--json").document["faults"]
    assert fault["patterns"] == []
    assert all(each["corrected"] for each in fault["garments"])


def test_what_stands_in_for_the_step_on_one_body_is_not_shared(followed: Any) -> None:
    widen = followed.step_of("blouse", -2)
    followed.made("amend", "adas", widen, "--by", "6mm")
    cut_and_noted(followed)
    (fault,) = followed.made("shared", "beas", "--json").document["faults"]
    assert {each["name"] for each in fault["garments"]} == {"beas"}
    assert fault["best"] == "blouse"
    (own,) = followed.made("shared", "first", "--json").document["faults"]
    assert {each["name"] for each in own["garments"]} == {"first", "short"}


def test_why_a_graft_is_not_mended_by_a_correction_is_told(followed: Any) -> None:
    words = {
        each["name"]: (each["reason"], each["says"])
        for each in followed.made("shared", "ada", "front.neck", "--json").document["faults"][0][
            "unmended"
        ]
    }
    assert words["adas"][0] == "own-step"
    assert "which adas takes over from blouse" in words["adas"][1]
