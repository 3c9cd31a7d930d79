"""trueup garments and garment: what was cut, and what became of its pattern since."""

from datetime import date
from typing import Any

import pytest

from tests.cli.restoring.story import git
from tests.cli.trouble.test_bad_input import refused
from tests.sharing.beginnings import Beginnings
from trueup.lineage.wardrobe import Wardrobe


@pytest.fixture
def cut(trueup: Any, beginnings: Beginnings) -> Any:
    """The wardrobe with three garments cut from it; two of them carry notes."""

    def begin() -> None:
        trueup.made("cut", "blouse", "--wearer", "Ada", "--date", "2025-03-01")
        trueup.made("cut", "vest", "--wearer", "Bo", "--date", "2025-03-02")
        trueup.made("cut", "blouse", "--wearer", "bo", "--date", "2025-03-03")
        trueup.made("note", "blouse-1", "armhole-gapes", "--place", "front.armhole")
        trueup.made("note", "blouse-1", "neck-gapes", "--place", "front.neck")
        trueup.made(
            "note", "vest-1", "side-swings-back", "--place", "front.side", "--wearer", "Ada"
        )

    beginnings.begin(trueup.folder, begin)
    return trueup


def names(answer: Any) -> list[str]:
    return [each["name"] for each in answer.document["garments"]]


def test_garments_are_listed_with_their_status_and_open_notes(cut: Any) -> None:
    assert names(cut.made("garments", "--json")) == ["blouse-1", "blouse-2", "vest-1"]
    lines = cut.made("garments").out.splitlines()
    assert "2: front armhole gapes, front neck gapes" in lines[1]
    assert lines[2].split() == ["blouse-2", "blouse", "bo", "2025-03-03", "cut", "none"]


def test_garments_of_a_pattern_or_a_wearer(cut: Any) -> None:
    assert names(cut.made("garments", "vest", "--json")) == ["vest-1"]
    assert names(cut.made("garments", "--wearer", "BO", "--json")) == ["blouse-2", "vest-1"]
    assert names(cut.made("garments", "--wearer", "ada", "--json")) == ["blouse-1", "vest-1"]
    assert names(cut.made("garments", "blouse", "--wearer", "Bo", "--json")) == ["blouse-2"]
    assert names(cut.made("garments", "own", "--json")) == []
    assert "No such garment" in cut.made("garments", "own").out
    assert "try vest" in refused(cut, "garments", "vestt")


def test_a_wardrobe_without_garments_says_so(trueup: Any) -> None:
    assert trueup.made("garments").out == "No such garment was cut.\n"
    assert "none was cut" in refused(trueup, "garment", "blouse-1")


def test_a_garment_says_whether_its_pattern_was_corrected_since(cut: Any) -> None:
    before = cut.made("garment", "blouse-1", "--json").document["since"]
    assert (before["pattern"], before["corrected"], before["steps"]) == ("same", False, [])
    cut.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "3mm")
    cut.made("style", "blouse", "lower-neck", "--piece", "front", "--by", "5mm")
    cut.made("correct", "own", "scoop-armhole", "--piece", "front", "--by", "3mm")
    cut.made("amend", "easy", cut.step_of("easy"), "--by=-6mm")
    since = cut.made("garment", "blouse-1", "--json").document["since"]
    assert (since["pattern"], since["corrected"]) == ("changed", True)
    assert [(each["node"], each["step"]["kind"], each["how"]) for each in since["steps"]] == [
        ("village", "scoop-armhole", "new"),
        ("easy", "shorten-shoulder", "amended"),
        ("blouse", "lower-neck", "new"),
    ]
    assert "blouse was corrected since" in cut.made("garment", "blouse-1").out


def test_a_change_for_looks_is_no_correction(cut: Any) -> None:
    cut.made("style", "blouse", "lower-neck", "--piece", "front", "--by", "5mm")
    since = cut.made("garment", "blouse-2", "--json").document["since"]
    assert (since["pattern"], since["corrected"]) == ("changed", False)
    assert "blouse was changed since" in cut.made("garment", "blouse-2").out
    step = cut.step_of("blouse")
    cut.made("drop", "blouse", step)
    assert cut.made("garment", "blouse-2", "--json").document["since"]["pattern"] == "same"


def test_a_step_dropped_since_is_told(cut: Any) -> None:
    cut.made("drop", "blouse", cut.step_of("blouse"))
    (step,) = cut.made("garment", "blouse-1", "--json").document["since"]["steps"]
    assert (step["step"]["kind"], step["how"]) == ("lower-neck", "dropped")


def test_what_a_held_parent_gained_is_not_told(trueup: Any) -> None:
    trueup.made("derive", "kept", "--from", "village", "--stay-on", "HEAD")
    trueup.made("cut", "kept")
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "3mm")
    assert trueup.made("garment", "kept-1", "--json").document["since"]["pattern"] == "same"


def test_a_garment_of_a_deleted_pattern_can_still_be_read(cut: Any) -> None:
    (cut.folder / "patterns/vest.toml").unlink()
    cut.made("garment", "blouse-1", "--status", "sewn")  # takes the deletion up as a step
    answer = cut.made("garment", "vest-1")
    assert "vest was deleted since; version" in answer.out
    assert cut.made("garment", "vest-1", "--json").document["since"]["pattern"] == "deleted"
    assert "vest (deleted since)" in cut.made("garments").out
    assert names(cut.made("garments", "vest", "--json")) == ["vest-1"]
    cut.made("note", "vest-1", "cap-pulls", "--place", "front.armhole")
    cut.made("garment", "vest-1", "--status", "retired")
    note = cut.made("garment", "vest-1", "--json").document["garment"]["open_notes"][0]
    assert "is no step of" in refused(cut, "resolve", note, "--by", "nosuch")
    assert "no block or pattern" in refused(cut, "cut", "vest")


def test_a_garment_from_a_version_that_is_not_here_can_still_be_read(cut: Any) -> None:
    file = cut.folder / "garments/vest-1.toml"
    text = file.read_text()
    with Wardrobe.open(cut.folder) as wardrobe:
        version = wardrobe.state.garment("vest-1").cut_from
        first = list(wardrobe.history())[-1].id
    for other in ("0" * 40, first):  # a version nobody has, and one before the pattern was made
        file.write_text(text.replace(version, other))
        cut.made("keep", "garments/vest-1.toml", "--why", "cut in another place")
        answer = cut("garment", "vest-1")
        assert answer.code == 3
        assert answer.out.count("The history here does not hold vest") == 1
        document = cut("garment", "vest-1", "--json").document
        assert document["since"]["pattern"] == "unreadable"
        assert document["garment"]["notes"]
        assert cut("garments").code == 0
    sentence = refused(cut, "note", "vest-1", "cap-pulls", "--place", "front.armhole")
    assert "vest" in sentence


# --- how far it has come ------------------------------------------------------------------------


def test_a_garment_from_a_version_that_is_damaged_can_still_be_read_and_the_damage_is_told(
    cut: Any,
) -> None:
    version = cut.made("garment", "blouse-1", "--json").document["garment"]["cut_from"]
    listed = git(cut.folder, "rev-parse", f"{version}^{{tree}}")
    (cut.folder / ".git/objects" / listed[:2] / listed[2:]).unlink()
    answer = cut("garment", "blouse-1", "--json")
    assert answer.code == 3
    assert "which it was cut from, cannot be read" in answer.document["since"]["says"]
    assert "`trueup restore" in answer.err
    assert answer.err.count("\n") == 1
    assert cut("garment", "vest-1").code == 0


def test_a_status_is_recorded_as_one_step(cut: Any) -> None:
    document = cut.made("garment", "blouse-1", "--status", "sewn", "--json").document
    assert document["garment"]["status"] == "sewn"
    assert document["recorded"]["says"] == "blouse-1 is sewn"
    cut.made("garment", "blouse-1", "--status", "altered")
    cut.made("garment", "blouse-1", "--status", "worn")  # again, after it was altered
    assert cut.made("garment", "blouse-1").out.startswith("blouse-1: worn\n")
    cut.made("undo")
    assert cut.made("garment", "blouse-1").out.startswith("blouse-1: altered\n")


def test_going_back_wants_a_reason(cut: Any) -> None:
    cut.made("garment", "blouse-1", "--status", "retired")
    assert "say why (`--why TEXT`)" in refused(cut, "garment", "blouse-1", "--status", "sewn")
    cut.made("garment", "blouse-1", "--status", "sewn", "--why", "mistook it for another")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("blouse-1", "--status", "cut"), "is cut already"),
        (("blouse-1", "--status", "swen"), "try sewn"),
        (("blouse-1", "--why", "because"), "--status STATUS"),
        (("blouse-9", "--status", "sewn"), "try blouse-2, blouse-1"),
        (("blouse",), "no garment"),
    ],
)
def test_what_is_no_status_is_refused(cut: Any, words: tuple[str, ...], told: str) -> None:
    assert told in refused(cut, "garment", *words)


@pytest.mark.parametrize("words", [("garments",), ("garment", "blouse-1")])
@pytest.mark.parametrize("form", [(), ("--json",)])
def test_reading_garments_writes_nothing(cut: Any, words: tuple[str, ...], form: Any) -> None:
    before = cut.contents()
    answer = cut.made(*words, *form)
    assert answer.err == ""
    assert cut.contents() == before


def test_a_garment_file_that_is_spoilt_is_named(cut: Any) -> None:
    (cut.folder / "garments/vest-1.toml").write_text('format = 1\nname = "vest-1"\n')
    answer = cut("garments")
    assert answer.code == 3
    assert "vest-1" not in answer.out
    assert answer.err.startswith("garments/vest-1.toml")
    assert "pattern" in answer.err
    assert answer.err.count("\n") == 1


# --- what needs attention -----------------------------------------------------------------------


def test_open_fit_notes_are_told_with_the_next_command(cut: Any) -> None:
    answer = cut.made()
    assert "3 fit notes open on 2 garments." in answer.out
    assert answer.out.splitlines()[-1].endswith(f"-C {cut.folder} garments")
    document = cut.made("--json").document
    assert document["garments"] == 3
    assert len(document["open_notes"]) == 3
    cut.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")
    told = cut.made().out
    assert "3 fit notes open on 2 garments." in told
    assert f"-C {cut.folder} garments\n" in told
    assert " conflicts village" in told.splitlines()[-1]


def test_a_wardrobe_without_notes_says_nothing_of_them(trueup: Any) -> None:
    trueup.made("cut", "blouse", "--date", date.today().isoformat())
    assert "fit note" not in trueup.made().out
    assert trueup.made("--json").document["open_notes"] == []


def test_a_garment_recorded_by_mistake_is_taken_out_when_somebody_says_why(cut: Any) -> None:
    assert "--why" in refused(cut, "garment", "blouse-1", "--forget")
    assert "one of them" in refused(cut, "garment", "blouse-1", "--forget", "--status", "sewn")
    before = cut.contents()
    answer = cut.made("garment", "blouse-1", "--forget", "--why", "never cut after all")
    assert "Take out the garment blouse-1" in answer.out
    assert names(cut.made("garments", "--json")) == ["blouse-2", "vest-1"]
    gone = before.keys() - cut.contents().keys()
    assert gone == {"garments/blouse-1.toml", "garments/blouse-1.svg"}
    assert "never cut after all" in cut.made("history").out
    cut.made("undo")
    assert {**cut.contents(), "HEAD": b""} == {**before, "HEAD": b""}
