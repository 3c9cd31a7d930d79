"""The files of bodies in trouble: edited in a late editor, unreadable, measured by two makers."""

import subprocess
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Trueup
from tests.cli.restoring.story import git
from tests.cli.trouble.test_bad_input import refused
from tests.cli.trouble.test_hand_edits import Editor, below, last_message, other
from tests.sharing.beginnings import Beginnings
from trueup.lineage.wardrobe import Wardrobe

FILE = "bodies/ada.toml"
FIRST = ("--bust", "88cm", "--waist", "68cm", "--back-length", "38cm", "--sleeve-length", "54cm")
NEXT = ("style", "vest", "lengthen", "--by", "10mm")
GROWN = ("body", "ada", "--bust", "93cm", "--date", "2025-09-01")


@pytest.fixture
def measured(trueup: Any, beginnings: Beginnings) -> Any:

    def begin() -> None:
        trueup.made("body", "Ada", *FIRST, "--date", "2025-03-31")
        trueup.made("remeasure", "village", "--for", "ada")

    beginnings.begin(trueup.folder, begin)
    return trueup


def sets(trueup: Any) -> dict[str, dict[str, str]]:
    with Wardrobe.open(trueup.folder) as wardrobe:
        return {str(each.date): each.taken for each in wardrobe.state.body("ada").sets}


# --- edited by hand -------------------------------------------------------------------------------


def test_a_set_written_by_hand_is_a_step_of_the_maker_and_is_waited_for(measured: Any) -> None:
    file = measured.folder / FILE
    file.write_text(file.read_text() + "\n[[sets]]\ndate = 2025-09-01\nbust = 93\n")
    assert measured.made("--json").document["waiting"][0]["newest"] == "2025-09-01"
    measured.made(*NEXT)
    assert "Edited by hand: bodies/ada.toml" in last_message(measured, 2)
    (entry,) = [
        each
        for each in measured.made("history", "--effects", "--json").document["history"]
        if each["verb"] == "edit"
    ]
    assert entry["bodies"][0]["says"] == "measured on 2025-09-01: bust 93"


def test_a_body_written_by_hand_alone(trueup: Any) -> None:
    (trueup.folder / "bodies").mkdir()
    (trueup.folder / "bodies/kit.toml").write_text(
        'format = 1\nname = "kit"\nwearer = "Kit"\n\n[[sets]]\ndate = 2025-03-31\n'
        "bust = 88\nwaist = 68\nback-length = 38\nsleeve-length = 54\n"
    )
    trueup.made("draft", "kits", "--for", "Kit")
    with Wardrobe.open(trueup.folder) as wardrobe:
        drafted = wardrobe.state.node("kits").draft
    assert drafted is not None
    assert drafted.body["bust"] == "88cm"


def test_an_editor_opened_before_a_set_was_recorded_keeps_it(measured: Any) -> None:
    editor = Editor(measured, FILE)
    measured.made(*GROWN)
    editor.save(below("# fits her well"))
    answer = measured.made(*NEXT)
    assert "bodies/ada.toml was opened before the set (2025-09-01) was recorded" in answer.err
    assert set(sets(measured)) == {"2025-03-31", "2025-09-01"}
    assert "# fits her well" in editor.file.read_text()


def test_and_one_that_changed_another_measurement_of_the_same_set(measured: Any) -> None:
    editor = Editor(measured, FILE)
    measured.made("body", "ada", "--hip", "98cm", "--date", "2025-03-31")
    editor.save(other('waist = "68cm"', 'waist = "69cm"'))
    measured.made(*NEXT)
    spring = sets(measured)["2025-03-31"]
    assert (spring["hip"], spring["waist"]) == ("98cm", "69cm")


def test_a_file_as_it_was_before_a_set_is_refused_by_the_name_of_it(measured: Any) -> None:
    editor = Editor(measured, FILE)
    measured.made(*GROWN)
    editor.save()
    assert "the set (2025-09-01)" in refused(measured, *NEXT)
    measured.made("keep", FILE, "--why", "somebody else's")
    assert set(sets(measured)) == {"2025-03-31"}
    assert "Takes-Out: the set (2025-09-01) of ada" in last_message(measured)


# --- unreadable -----------------------------------------------------------------------------------


@pytest.mark.parametrize("content", [b"half of", b"\xff\xfe", b"", b"format = 1\n", None])
@pytest.mark.parametrize("committed", [False, True])
def test_one_that_cannot_be_read_is_told_in_a_sentence_and_stops_nothing_else(
    measured: Any, content: bytes | None, committed: bool
) -> None:
    file = measured.folder / FILE
    if content is None:
        file.unlink()
        file.symlink_to("/etc/hostname")
    else:
        file.write_bytes(content)
    if committed:
        git(measured.folder, "add", "-A")
        git(measured.folder, "commit", "-qm", "half")
    answer = measured("--json")
    assert answer.code == 3
    assert [each["path"] for each in answer.document["unreadable"]] == [FILE]
    assert answer.err.count("\n") == 1
    assert "trueup restore bodies/ada.toml" in answer.err
    for words in (("body",), ("check", "--all")):
        assert measured(*words).code == 3
    for words in (("check", "vest"), ("history", "village"), ("garments",)):
        assert measured(*words).code in (0, 3)
    for words in (("body", "ada"), GROWN, ("remeasure", "village", "--for", "ada")):
        said = measured(*words)
        assert said.code == 3
        assert said.err.count("\n") == 1
        assert FILE in said.err
    measured("restore")
    assert set(sets(measured)) == {"2025-03-31"}
    measured.made(*NEXT)


def test_a_body_that_is_gone_leaves_its_blocks_as_they_are(measured: Any) -> None:
    (measured.folder / FILE).unlink()
    assert measured("check", "village").code == 0
    assert measured.made("--json").document["waiting"] == []
    said = refused(measured, "remeasure", "village")
    assert 'Nothing was measured of "ada"' in said
    measured.made("remeasure", "village", "--bust", "90cm")


# --- two makers -----------------------------------------------------------------------------------


def clone(trueup: Any, place: Path) -> Trueup:
    subprocess.run(["git", "clone", "--quiet", str(trueup.folder), str(place)], check=True)
    return Trueup(place)


def test_what_two_makers_measure_is_joined_and_the_block_follows(
    measured: Any, tmp_path: Path
) -> None:
    there = clone(measured, tmp_path / "other")
    there.made(*GROWN)
    there.made("remeasure", "village", "--why", "grown")
    there.made("body", "Bert", "--waist", "80cm", "--date", "2025-09-02")
    measured.made("body", "ada", "--waist", "69cm", "--date", "2025-06-01")
    measured.made("remeasure", "village")
    out = measured.made("mend", str(there.folder)).out
    assert "the set of 2025-09-01" in out
    assert set(sets(measured)) == {"2025-03-31", "2025-06-01", "2025-09-01"}
    with Wardrobe.open(measured.folder) as wardrobe:
        state = wardrobe.state
    village = state.node("village")
    assert village.draft is not None
    assert village.drafted_for is not None
    assert (village.draft.body["bust"], village.draft.body["waist"]) == ("93cm", "69cm")
    assert str(village.drafted_for.measured) == "2025-09-01"
    assert measured.made("--json").document["waiting"] == []
    assert state.body("Bert").sets[0].taken == {"waist": "80cm"}


def test_one_measurement_measured_twice_on_one_day_is_asked_about(
    measured: Any, tmp_path: Path
) -> None:
    there = clone(measured, tmp_path / "other")
    there.made(*GROWN)
    measured.made("body", "ada", "--bust", "94cm", "--date", "2025-09-01")
    before = measured.contents()
    said = refused(measured, "mend", str(there.folder))
    assert "bodies/ada.toml, set of 2025-09-01" in said
    assert '"94cm"' in said
    assert measured.contents() == before
