"""trueup history: asked about a node, an edge, a garment, a wearer, a time."""

import datetime
import re
from collections.abc import Iterator
from typing import Any

import pytest
from rich.text import Text

from tests.lineage.recording import record_files
from trueup.cli import page
from trueup.lineage.files.garment_records import FitNote, GarmentRecord
from trueup.lineage.files.garment_writing import garment_text
from trueup.lineage.wardrobe import Wardrobe

SCOOP = ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")
DAY = datetime.date(2025, 3, 1)


@pytest.fixture
def worn(trueup: Any) -> Any:
    """The wardrobe with a garment cut from the blouse and noted, corrected after that."""
    with Wardrobe.open(trueup.folder) as wardrobe:
        note = FitNote("n1", "armhole binds", "front.armhole", DAY, wearer="Bea")
        cut = GarmentRecord("tea-dress", "blouse", wardrobe.head, DAY, wearer="Ana", notes=(note,))
        record_files(wardrobe, {cut.path: garment_text(cut)}, "cut", "Cut tea-dress from blouse")
    trueup.made(*SCOOP, "--why", "it binds")
    return trueup


def said(answer: Any) -> list[str]:
    return [each["says"] for each in answer.document["history"]]


def test_effects_are_measured_again_and_told_with_the_verdicts(worn: Any) -> None:
    out = worn.made("history", "village", "--effects").out
    assert "hollow the armhole of the front by 2 cm" in out
    assert "why: it binds" in out
    assert re.search(r"front\.armhole [0-9.]+ cm -> [0-9.]+ cm \(\+[0-9.]+ cm\)", out)
    assert "4 descendants: " in out
    assert "doubled: own" in out
    conflict = worn("conflicts", "village", "--json").document["conflicts"][0]["id"]
    assert f"brought {conflict} at village" in out


def test_decisions_that_followed_are_told_with_the_correction(worn: Any) -> None:
    conflict = worn("conflicts", "village", "--json").document["conflicts"][0]["id"]
    worn.made("decide", conflict, "refit-cap", "--why", "hung well")
    out = worn.made("history", "village", "--effects").out
    assert f"decided {conflict} at village on" in out
    assert ": refit the sleeve cap (" in out
    correction = worn.made("history", "village", "--effects", "--json").document["history"][1]
    (decided,) = correction["decisions"]
    assert (decided["conflict"], decided["why"]) == (conflict, "hung well")


def test_effects_as_json_say_what_the_step_said(worn: Any) -> None:
    worn.made("undo")
    made = worn.made(*SCOOP, "--json").document
    told = worn.made("history", "--last", "1", "--effects", "--json").document["history"][0]
    assert told["commit"] == made["correction"]["commit"]
    assert told["measures"] == made["measures"]
    assert told["patterns"] == made["patterns"]
    assert [each["id"] for each in told["made"]] == told["steps"]
    assert sum(told["verdicts"].values()) == len(told["patterns"])


def test_without_effects_nothing_is_evaluated(worn: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    from trueup.lineage.evaluation.evaluate import Evaluator  # noqa: PLC0415

    monkeypatch.setattr(Evaluator, "summary", None)
    monkeypatch.setattr(Evaluator, "draft", None)
    for words in ((), ("village",), ("tea-dress",), ("--wearer", "Ana"), ("--since", "HEAD~2")):
        worn.made("history", *words)


def test_an_edge_has_only_what_shaped_it(worn: Any) -> None:
    subjects = said(worn.made("history", "blouse", "front.armhole", "--json"))
    assert subjects[0] == "Correct village: scoop-armhole"
    assert "Style blouse: lower-neck" not in subjects
    anywhere = said(worn.made("history", "front.armhole", "--json"))
    assert "Style vest: redraw-edge" in anywhere


def test_a_garment_has_its_cutting_and_what_came_after(worn: Any) -> None:
    answer = worn.made("history", "tea-dress")
    assert answer.out.startswith("The garment tea-dress for Ana, cut\n")
    assert "Correct village: hollow the armhole" in answer.out
    assert "Style blouse: lower-neck" not in answer.out
    document = worn.made("history", "tea-dress", "--json").document
    assert document["garment"]["name"] == "tea-dress"


def test_a_wearer_has_their_garments_and_blocks(worn: Any) -> None:
    for name in ("Ana", "Bea"):
        subjects = said(worn.made("history", "--wearer", name, "--json"))
        assert "Cut tea-dress from blouse" in subjects
        assert "Draft the block village" in subjects
        assert "Style vest: redraw-edge" not in subjects


def test_since_and_between(worn: Any) -> None:
    assert said(worn.made("history", "--since", "HEAD~1", "--json")) == [
        "Correct village: scoop-armhole"
    ]
    assert said(worn.made("history", "--between", "HEAD~2", "HEAD~1", "--json")) == [
        "Cut tea-dress from blouse"
    ]
    everything = said(worn.made("history", "--json"))
    begun = worn.made("history", "--json").document["history"][-1]["when"][:10]
    assert said(worn.made("history", "--since", begun, "--json")) == everything
    out = worn.made("history", "vest", "--between", "HEAD", "HEAD").out
    assert "Nothing was done here in that time." in out


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("nobody",), 'There is no block, pattern or garment "nobody"'),
        (("villag",), "try village"),
        (("village", "front.nose"), '"front.nose" is not an edge'),
        (("front.nose",), '"front.nose" is not an edge of any block'),
        (("nobody", "front.neck"), 'There is no block or pattern "nobody"'),
        (("--wearer", "Zoe"), 'No garment or fit note names "Zoe" as its wearer; try Ana, Bea.'),
        (("--since", "2025-02-30"), "the calendar has no such day"),
        (("--since", "9999-12-31"), "that day lies in the future"),
        (("--since", "spring"), '"spring" is no moment of the history'),
        (("--since=--all",), "is no moment of the history"),
        (("--between", "HEAD", "HEAD~2"), "HEAD~2 comes before HEAD"),
        (("--between", "HEAD~2", "nope"), '"nope" is no moment'),
        (("--since", "HEAD", "--between", "HEAD~1", "HEAD"), "give one of them"),
    ],
)
def test_what_is_not_there_is_told_in_one_sentence(
    worn: Any, words: tuple[str, ...], sentence: str
) -> None:
    before = worn.contents()
    answer = worn("history", *words)
    assert answer.code == 2
    assert answer.out == ""
    assert sentence in answer.err
    assert len(answer.err.splitlines()) == 1
    assert worn.contents() == before


def test_a_long_history_is_printed_while_it_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    written: list[int] = []
    monkeypatch.setattr(page, "write", lambda text: written.append(text.count("\n")))
    asked = []

    def lines() -> Iterator[Text]:
        for number in range(5_000):
            asked.append((number, len(written)))
            yield page.said(f"step {number}")

    page.show_as_it_comes(lines())
    assert sum(written) == 5_000
    assert asked[4_000][1] > 0, "what was found first is written before the last is asked for"
