"""trueup graft: a style on another body, and what every verb makes of it."""

import re
from pathlib import Path
from typing import Any

import pytest

from tests.cli.restoring.story import git
from tests.judging.sampled import length
from tests.sharing.beginnings import Beginnings
from trueup.lineage.wardrobe import Wardrobe

ADA = ("--bust", "100cm", "--waist", "84cm", "--back-length", "40cm", "--sleeve-length", "57cm")


@pytest.fixture
def grafted(trueup: Any, beginnings: Beginnings) -> Any:

    def begin() -> None:
        trueup.made("draft", "ada", *ADA)
        trueup.made("style", "blouse", "lengthen", "--by", "12% of waist")
        trueup.made("graft", "blouse", "--onto", "ada", "--as", "adas", "--why", "for Ada")

    beginnings.begin(trueup.folder, begin)
    return trueup


def side(trueup: Any, node: str) -> float:
    with Wardrobe.open(trueup.folder) as wardrobe:
        return length(wardrobe.evaluator.draft(node).piece("front").edge("side"))


def test_it_is_one_commit_and_a_file_an_earlier_program_refuses(grafted: Any) -> None:
    message = git(grafted.folder, "log", "-1", "--format=%B")
    assert message.startswith("Graft blouse onto ada as adas\n\nfor Ada")
    assert "Verb: graft" in message
    text = (grafted.folder / "patterns/adas.toml").read_text()
    assert text.startswith("format = 2\n")
    assert '[style]\nname = "blouse"' in text


def test_a_bound_amount_is_worked_out_on_the_body_of_each_block(grafted: Any) -> None:
    grew = side(grafted, "adas") - side(grafted, "ada")
    assert grew == pytest.approx(0.12 * 840, abs=0.05)
    easy = side(grafted, "blouse") - side(grafted, "easy")
    assert easy == pytest.approx(0.12 * 680, abs=0.05)
    grafted.made("remeasure", "ada", "--waist", "86cm")
    assert side(grafted, "adas") - side(grafted, "ada") == pytest.approx(0.12 * 860, abs=0.05)


def test_a_later_style_and_a_later_correction_arrive_with_their_verdicts(grafted: Any) -> None:
    style = grafted.made("style", "blouse", "widen-neck", "--by", "1cm", "--json").document
    assert {each["name"]: each["verdict"] for each in style["patterns"]} == {"adas": "carried"}
    fit = grafted.made("correct", "ada", "slope-shoulder", "--by", "3mm", "--json").document
    assert [each["name"] for each in fit["patterns"]] == ["adas"]
    other = grafted.made("correct", "village", "slope-shoulder", "--by", "2mm", "--json").document
    assert "adas" not in [each["name"] for each in other["patterns"]]


def test_every_verb_says_where_the_style_comes_from(grafted: Any) -> None:
    assert "adas  (style of blouse" in grafted.made("tree").out
    told = grafted.made("origin", "adas").out
    assert re.search(r"front.side +blouse +lengthen front and back by 10.1 cm", told)
    told = grafted.made("explain", "adas").out
    assert "Derived from ada, with the style of blouse." in told
    assert "taken over from blouse" in told
    assert "by 10.1 cm (by: 12% of waist)" in told
    assert "with the style of blouse" in grafted.made("history", "adas").out
    assert "lengthen front and back by 8.2 cm (by: 12% of waist)" in grafted.made("report").out
    document = grafted.made("tree", "--json").document
    (node,) = [each for each in document["nodes"] if each["name"] == "adas"]
    assert node["style"] == {
        "name": "blouse",
        "takes": "style",
        "stays_on": None,
        "without": [],
        "called": {},
    }


def test_a_style_that_was_joined_is_told_with_what_lies_beneath_the_joining(grafted: Any) -> None:
    grafted.made("derive", "top", "--from", "village:front,back")
    grafted.made("style", "top", "lower-neck", "--piece", "front", "--by", "4% of waist")
    grafted.made("derive", "arm", "--from", "village:sleeve")
    grafted.made("style", "arm", "widen-sleeve", "--by", "10mm")
    grafted.made("derive", "both", "--from", "top", "--from", "arm")
    grafted.made("style", "both", "lengthen", "--by", "20mm")
    grafted.made("graft", "both", "--onto", "ada", "--as", "ada-both")
    document = grafted.made("explain", "ada-both", "--json").document
    told = document["chain"][-1]["steps"]
    assert [(each["taken_from"], each["kind"]) for each in told] == [
        ("top", "lower-neck"),
        ("arm", "widen-sleeve"),
        ("both", "lengthen"),
    ]
    moved = {each["name"]: each for each in document["moved"]}
    for name, edge in (("front.neck", "neck"), ("front.centre", "centre")):
        for when, node in (("before_mm", "ada"), ("after_mm", "ada-both")):
            with Wardrobe.open(grafted.folder) as wardrobe:
                drawn = length(wardrobe.evaluator.draft(node).piece("front").edge(edge))
            assert moved[name][when] == pytest.approx(drawn, abs=0.05)
    out = grafted.made("explain", "ada-both").out
    assert "by 3.4 cm (by: 4% of waist)" in out
    assert re.search(r"front.neck-depth .*\(\+3\.[34] cm\)", out)


def test_a_step_of_the_style_is_amended_and_left_out_for_this_body_alone(grafted: Any) -> None:
    lengthen = grafted.step_of("blouse")
    grafted.made("amend", "adas", lengthen, "--by", "5cm")
    assert side(grafted, "adas") - side(grafted, "ada") == pytest.approx(50, abs=0.05)
    grafted.made("drop", "adas", lengthen)
    grafted.made("drop", "adas", lengthen)
    assert side(grafted, "adas") == pytest.approx(side(grafted, "ada"), abs=0.05)
    grafted.made("undo")
    assert side(grafted, "adas") - side(grafted, "ada") == pytest.approx(100.8, abs=0.05)


def test_the_other_verbs_work_on_a_graft(grafted: Any, tmp_path: Path) -> None:
    grafted("check", "adas")
    grafted.made("correct", "adas", "shorten-shoulder", "--by", "4mm", "--why", "gapes")
    own = grafted.step_of("adas")
    grafted.made("cut", "adas", "--wearer", "Ada", "--name", "adas-first")
    grafted.made("note", "adas-first", "bust-tight", "--place", "bust")
    for words in (
        ("compare", "blouse", "adas"),
        ("shared", "--all"),
        ("alter", "adas-first"),
        ("report",),
        ("walk", "adas"),
        ("measure", "adas"),
        ("explain", "adas", "--json"),
        ("report", "--json"),
        ("sheet", "adas", str(tmp_path / "sheet.pdf")),
        ("book", str(tmp_path / "book.html")),
        ("tree", "--picture", str(tmp_path / "tree.svg")),
        ("promote", "adas", own, "--to", "ada", "--accept-difference"),
    ):
        answer = grafted(*words)
        assert answer.code in (0, 1), (words, answer.err)
        assert "Traceback" not in answer.err
    with Wardrobe.open(grafted.folder) as wardrobe:
        assert wardrobe.state.node("ada").step(own)
    assert "style of blouse" in (tmp_path / "tree.svg").read_text()


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("graft", "blouse", "--onto", "nowhere", "--as", "x"), "nowhere"),
        (("graft", "nothing", "--onto", "ada", "--as", "x"), "nothing"),
        (("graft", "blouse", "--onto", "ada", "--as", "ada"), "ada is already"),
        (("graft", "easy", "--onto", "blouse", "--as", "x"), "has the style of easy already"),
        (("style", "blouse", "lengthen", "--by", "bust/0"), "divides by nought"),
        (("style", "blouse", "lengthen", "--by", "bsut/8"), "no measurement"),
        (("style", "blouse", "lengthen", "--by", "bust-waist"), "a blank on either side"),
        (("style", "blouse", "lengthen", "--by", "bust/8 + 1"), "a plain number to a length"),
    ],
)
def test_what_cannot_be_is_one_sentence_and_nothing_written(
    grafted: Any, words: tuple[str, ...], says: str
) -> None:
    before = grafted.contents()
    answer = grafted(*words)
    assert answer.code == 2
    assert says in answer.err
    assert len(answer.err.strip().splitlines()) == 1
    assert grafted.contents() == before


def test_both_makers_see_a_graft_after_their_work_is_joined(grafted: Any, tmp_path: Path) -> None:
    other = tmp_path / "other"
    git(grafted.folder.parent, "clone", "-q", str(grafted.folder), str(other))
    theirs = type(grafted)(other)
    theirs.made("correct", "ada", "slope-shoulder", "--by", "3mm")
    grafted.made("style", "blouse", "widen-neck", "--by", "6mm")
    grafted.made("mend", str(other))
    with Wardrobe.open(grafted.folder) as wardrobe:
        kinds = [step.kind for step in wardrobe.evaluator.worked("adas").steps]
        assert "widen-neck" in kinds
        assert wardrobe.state.node("ada").steps[0].kind == "slope-shoulder"


def test_a_style_written_by_hand_is_taken_up_as_the_makers_step(grafted: Any) -> None:
    file = grafted.folder / "patterns/adas.toml"
    lengthen = grafted.step_of("blouse")
    text = file.read_text().replace('name = "blouse"', f'name = "blouse"\nwithout = ["{lengthen}"]')
    file.write_text(text)
    assert side(grafted, "adas") == pytest.approx(side(grafted, "ada"), abs=0.05)
    grafted.made("keep", "--why", "too long for her")
    grafted.made("style", "blouse", "widen-neck", "--by", "5mm")
    assert f'without = ["{lengthen}"]' in file.read_text()
    assert "without 1 of its steps" in grafted.made("history", "adas").out


def test_a_graft_is_mended_with_the_pattern_whose_style_it_takes(grafted: Any) -> None:
    (grafted.folder / "patterns/blouse.toml").write_text("")
    told = grafted("tree")
    assert "goes without adas, blouse" in told.err
    grafted.made("restore")
    assert "adas  (style of blouse" in grafted.made("tree").out
