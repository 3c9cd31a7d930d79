"""trueup shared: who shares a fault, by garment, by place, and for all open notes."""

from datetime import date
from typing import Any

import pytest

from tests.lineage.recording import record_files
from trueup.lineage.files.garment_records import FitNote, GarmentRecord
from trueup.lineage.files.garment_writing import garment_text
from trueup.lineage.wardrobe import Wardrobe

DAY = date(2025, 3, 1)


def cut(trueup: Any, name: str, pattern: str, *notes: FitNote) -> None:
    with Wardrobe.open(trueup.folder) as wardrobe:
        made = GarmentRecord(name, pattern, wardrobe.head, DAY, notes=notes)
        record_files(wardrobe, {made.path: garment_text(made)}, "cut", f"Cut {name}")


def note(name: str, place: str = "back.armhole") -> FitNote:
    return FitNote(name, "gapes", place, DAY, amount_mm=12.0)


@pytest.fixture
def worn(trueup: Any) -> Any:
    """Garments of all patterns; two gape at the back, whose armhole is as the village's."""
    cut(trueup, "annas-vest", "vest", note("note-a"))
    cut(trueup, "berts-shirt", "own", note("note-b"))
    cut(trueup, "coras-blouse", "blouse", note("note-c", "front.neck"))
    cut(trueup, "doras-vest", "vest")
    return trueup


def test_all_open_notes_by_their_common_cause(worn: Any) -> None:
    document = worn.made("shared", "--all", "--json").document
    (cause,) = document["causes"]
    assert cause.keys() >= {"node", "place", "notes", "patterns", "garments"}
    assert (cause["node"], cause["place"], cause["step"]) == ("village", "back.armhole", None)
    assert cause["notes"] == ["note-a", "note-b"]
    assert cause["garments"] == ["annas-vest", "berts-shirt", "doras-vest"]
    assert cause["patterns"] == ["own", "vest"]
    assert cause["best"]["node"] == "village"
    assert worn.made("shared", "--json").document == document


def test_causes_seen_once_are_listed_when_asked_for(worn: Any) -> None:
    causes = worn.made("shared", "--all", "--single", "--json").document["causes"]
    assert [(each["node"], each["common"]) for each in causes] == [
        ("village", True),
        ("blouse", False),
    ]
    out = worn.made("shared", "--all").out
    assert "3 open notes: 1 common cause, 1 seen on one garment only (--single lists them)." in out


def test_the_fault_of_one_garment_and_where_it_would_be_corrected(worn: Any) -> None:
    (fault,) = worn.made("shared", "annas-vest", "--json").document["faults"]
    assert (fault["node"], fault["best"]) == ("village", "village")
    assert [each["name"] for each in fault["garments"]] == [
        "annas-vest",
        "berts-shirt",
        "doras-vest",
    ]
    assert [(rank["node"], len(rank["garments"])) for rank in fault["ranks"]] == [
        ("vest", 2),
        ("village", 3),
    ]
    assert {each["name"]: each["reason"] for each in fault["unmended"]} == {
        "blouse": "own-step",
        "easy": "own-step",
    }
    out = worn.made("shared", "annas-vest", "note-a").out
    assert "back.armhole of annas-vest (gapes)" in out
    assert "Last shaped at village, as drafted." in out
    assert "One correction would mend the most at village:" in out
    assert 'easy\'s own step "shorten the shoulder"' in " ".join(out.split())


def test_a_place_of_a_node(worn: Any) -> None:
    (fault,) = worn.made("shared", "own", "front.armhole", "--json").document["faults"]
    assert fault["node"] == "own"
    assert fault["step"]["kind"] == "scoop-armhole"
    assert [each["name"] for each in fault["garments"]] == ["berts-shirt"]
    out = worn.made("shared", "village", "bust").out
    assert "That is back.armhole, back.side, front.armhole, front.side." in out


def test_once_corrected_at_the_block_the_garments_still_have_it(worn: Any) -> None:
    worn.made("correct", "village", "scoop-armhole", "--piece", "back", "--by", "4mm")
    (fault,) = worn.made("shared", "annas-vest", "--json").document["faults"]
    corrected = {each["name"]: each["corrected"] for each in fault["garments"]}
    assert corrected == dict.fromkeys(["annas-vest", "berts-shirt", "doras-vest"], True)
    assert fault["patterns"] == []
    assert fault["now"]["step"]["kind"] == "scoop-armhole"
    assert "nothing left to correct" in worn.made("shared", "annas-vest").out


def test_a_line_drawn_otherwise_by_the_same_step_is_not_called_corrected(worn: Any) -> None:
    cut(worn, "emmas-blouse", "blouse", note("note-e", "front.shoulder"))
    worn.made("correct", "village", "shorten-shoulder", "--by", "4mm")
    causes = worn.made("shared", "--all", "--single", "--json").document["causes"]
    (cause,) = [each for each in causes if each["place"] == "front.shoulder"]
    assert (cause["patterns"], cause["best"]) == ([], None)
    assert cause["now"] == {"node": "easy", "step": cause["step"]}
    says = "easy draws it otherwise since. The next fitting shows"
    assert says in worn.made("shared", "--all", "--single").out
    out = worn.made("shared", "emmas-blouse").out
    assert says in out
    assert "nothing left to correct" not in out


def test_without_a_note_there_is_no_cause(trueup: Any) -> None:
    document = trueup.made("shared", "--all", "--json").document
    assert document["causes"] == []
    assert "No fit note is open." in trueup.made("shared").out


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("nobody",), 'There is no block or pattern "nobody"'),
        (("doras-vest",), "doras-vest has no open fit note"),
        (("annas-vest", "note-z"), '"note-z" is no fit note of annas-vest; it has note-a.'),
        (("village",), "Say which place of village"),
        (("village", "front.collar"), '"front.collar" is not a place of village'),
        (("vest", "sleeve.cap"), '"sleeve.cap" is not a place of vest'),
        (("village", "bust", "--all"), "not both"),
    ],
)
def test_what_cannot_be_asked_is_one_sentence(worn: Any, words: Any, says: str) -> None:
    before = worn.contents()
    answer = worn("shared", *words)
    assert answer.code == 2
    assert says in answer.err
    assert answer.err.count("\n") == 1
    assert answer.out == ""
    assert worn.contents() == before
