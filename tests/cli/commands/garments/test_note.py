"""trueup note and resolve: what is seen on a worn garment, and which correction mended it."""

import datetime
import io
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from tests.cli.options.test_completion import offered
from tests.cli.trouble.test_bad_input import refused
from tests.sharing.beginnings import Beginnings
from trueup.lineage.symptoms.rows import SYMPTOMS

GAPES = ("armhole-gapes", "--place", "front.armhole")


@pytest.fixture
def worn(trueup: Any, beginnings: Beginnings) -> Any:
    """The wardrobe with one blouse cut from it in March 2025, for Ada."""

    def begin() -> None:
        trueup.made("cut", "blouse", "--wearer", "Ada", "--date", "2025-03-01")

    beginnings.begin(trueup.folder, begin)
    return trueup


def picture(tmp_path: Path, kind: str = "JPEG") -> Path:
    exif = Image.Exif()
    exif[0x010E] = "48.2082N 16.3738E"
    file = tmp_path / f"fitting.{kind.lower()}"
    Image.new("RGB", (300, 200), "red").save(file, kind, exif=exif)
    return file


def test_a_note_says_all_that_was_seen(worn: Any) -> None:
    answer = worn.made(
        *("note", "blouse-1", *GAPES, "--amount", "1.2cm", "--side", "left"),
        *("--date", "2025-04-02", "--words", "only when she reaches up", "--json"),
    )
    note = answer.document["note"]
    assert note["id"].startswith("note-")
    assert (note["symptom"], note["place"], note["side"]) == (
        "armhole-gapes",
        "front.armhole",
        "left",
    )
    assert (note["amount_mm"], note["date"], note["wearer"]) == (12, "2025-04-02", "Ada")
    assert note["words"] == "only when she reaches up"
    assert note["is_open"]
    assert answer.document["garment"]["open_notes"] == [note["id"]]
    said = worn.made("garment", "blouse-1").out
    assert said.splitlines()[-1].endswith("diagnose blouse-1")
    assert note["id"] in said
    assert "1.2 cm, left side, worn by Ada, 2025-04-02" in said


def test_today_and_both_sides_are_meant_unless_said(worn: Any) -> None:
    days = {datetime.date.today().isoformat()}
    note = worn.made("note", "blouse-1", *GAPES, "--json").document["note"]
    assert note["date"] in days | {datetime.date.today().isoformat()}
    assert (note["side"], note["amount_mm"], note["photo"]) == ("both", None, None)


@pytest.mark.parametrize("place", ["front.armhole", "front.bust", "bust", "sleeve.cap", "biceps"])
def test_a_place_is_an_edge_a_dart_or_a_level(worn: Any, place: str) -> None:
    note = worn.made("note", "blouse-1", "bust-tight", "--place", place, "--json").document["note"]
    assert note["place"] == place


def test_a_place_is_one_of_the_version_that_was_cut(worn: Any) -> None:
    worn.made("style", "blouse", "release-dart", "--dart", "front.bust")
    worn.made("cut", "blouse", "--name", "late", "--date", "2025-03-01")
    worn.made("note", "blouse-1", "dart-points-past", "--place", "front.bust")
    sentence = refused(worn, "note", "late", "dart-points-past", "--place", "front.bust")
    assert "is not a place of late as it was cut" in sentence


@pytest.mark.parametrize("verb", ["note", "diagnose"])
def test_the_help_lists_every_symptom_in_plain_words(trueup: Any, verb: str) -> None:
    lines = [line.split() for line in trueup.made(verb, "--help").out.splitlines() if line.strip()]
    words = [word for line in lines[lines.index(["Symptoms:"]) :] for word in line]
    text = " ".join(words)
    for symptom, says in SYMPTOMS.items():
        assert f" {symptom} {says}" in text
    assert " other " in text


def test_words_stand_for_what_the_vocabulary_does_not_say(worn: Any) -> None:
    words = ("--words", "the collar rubs")
    made = worn.made("note", "blouse-1", "other", "--place", "front.neck", *words, "--json")
    assert made.document["note"]["symptom"] == "other"
    spaced = worn.made("note", "blouse-1", "Armhole  gapes", "--place", "front.armhole", "--json")
    assert spaced.document["note"]["symptom"] == "armhole-gapes"


def test_the_same_note_on_the_same_version_has_the_same_id(worn: Any) -> None:
    words = ("note", "blouse-1", *GAPES, "--date", "2025-04-02", "--json")
    first = worn.made(*words).document["note"]["id"]
    worn.made("undo")
    worn.made("undo")
    worn.made("cut", "blouse", "--wearer", "Ada", "--date", "2025-03-01")
    other = worn.made(*words).document["note"]["id"]
    assert other != first  # made on another version
    assert worn.made(*words).document["note"]["id"] not in (first, other)


@pytest.mark.parametrize(("kind", "suffix"), [("JPEG", "jpg"), ("PNG", "png"), ("WEBP", "webp")])
def test_a_photo_is_copied_without_what_the_camera_wrote(
    worn: Any, tmp_path: Path, kind: str, suffix: str
) -> None:
    file = picture(tmp_path, kind)
    note = worn.made("note", "blouse-1", *GAPES, "--photo", str(file), "--json").document["note"]
    assert note["photo"] == f"photos/blouse-1-{note['id']}.{suffix}"
    kept = (worn.folder / note["photo"]).read_bytes()
    assert b"48.2082N" not in kept
    with Image.open(io.BytesIO(kept)) as image:
        assert (image.format, image.size) == (kind, (300, 200))
    worn.made("undo")
    assert not (worn.folder / note["photo"]).exists()


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("blouse", *GAPES), "no garment"),
        (("blouse-2", *GAPES), "try blouse-1"),
        (("blouse-1", "armhole-gape", *GAPES[1:]), "try armhole-gapes"),
        (("blouse-1", "it pinches", *GAPES[1:]), "`other` with words"),
        (("blouse-1", "other", *GAPES[1:]), "`--words TEXT`"),
        (("blouse-1", "", *GAPES[1:]), "not a known symptom"),
        (("blouse-1", "armhole-gapes"), "--place"),
        (("blouse-1", "armhole-gapes", "--place", "front.armhol"), "try front.armhole"),
        (("blouse-1", "armhole-gapes", "--place", "hip"), "is not a place"),
        (("blouse-1", "armhole-gapes", "--place", "bist"), "try bust"),
        (("blouse-1", *GAPES, "--side", "lft"), "try left"),
        (("blouse-1", *GAPES, "--amount", "2ft"), "ft is not a known unit"),
        (("blouse-1", *GAPES, "--amount", "0"), "more than 0"),
        (("blouse-1", *GAPES, "--amount", "-5mm"), "more than 0"),
        (("blouse-1", *GAPES, "--amount", "nan"), "not a length"),
        (("blouse-1", *GAPES, "--date", "2999-01-01"), "lies in the future"),
        (("blouse-1", *GAPES, "--date", "2025-02-28"), "before blouse-1 was cut"),
        (("blouse-1", *GAPES, "--words", "x" * 3000), "2000 is the most"),
    ],
)
def test_what_cannot_be_noted_is_refused(worn: Any, words: tuple[str, ...], told: str) -> None:
    assert told in refused(worn, "note", *words)


def test_what_is_no_photo_is_refused(worn: Any, tmp_path: Path) -> None:
    (tmp_path / "words.jpg").write_text("no picture")
    with (tmp_path / "huge.jpg").open("wb") as stream:
        stream.truncate(200_000_000)
    (tmp_path / "link.jpg").symlink_to(picture(tmp_path))
    for name, told in (
        ("words.jpg", "cannot be read as a picture"),
        ("huge.jpg", "larger than 20 MB"),
        ("link.jpg", "a link"),
        ("vanished.jpg", "no such file"),
        (".", "a folder"),
    ):
        assert told in refused(worn, "note", "blouse-1", *GAPES, "--photo", str(tmp_path / name))


def test_symptoms_places_and_notes_are_completed(worn: Any) -> None:
    worn.made("note", "blouse-1", *GAPES)
    note = worn.made("note", "blouse-1", *GAPES, "--json").document["note"]["id"]
    worn.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "3mm")
    line = "trueup note blouse-1 armhole-"
    assert offered(worn.folder, line) == ["armhole-gapes", "armhole-binds"]
    assert offered(worn.folder, "trueup note blouse-1 x --place bu") == ["bust"]
    assert note in offered(worn.folder, "trueup resolve note-")
    assert offered(worn.folder, f"trueup resolve {note} --by ") == [worn.step_of("village")]
    assert offered(worn.folder, "trueup garment bl") == ["blouse-1"]
    assert offered(worn.folder, "trueup cut blouse --stitched-down front.ne") == ["front.neck"]


# --- what mended it -----------------------------------------------------------------------------


@pytest.fixture
def noted(worn: Any) -> tuple[Any, str]:
    note = worn.made("note", "blouse-1", *GAPES, "--json").document["note"]
    return worn, note["id"]


def test_a_correction_of_the_block_mends_a_note(noted: tuple[Any, str]) -> None:
    trueup, note = noted
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "3mm")
    step = trueup.step_of("village")
    assert f"resolve {note} --by {step}" in trueup.made("garment", "blouse-1").out
    answer = trueup.made("resolve", note, "--by", step, "--json")
    assert answer.document["note"]["resolved_by"] == [step]
    assert not answer.document["note"]["is_open"]
    assert answer.document["garment"]["open_notes"] == []
    assert f"mended by {step}" in trueup.made("garment", "blouse-1").out
    trueup.made("drop", "village", step)
    assert f"{step} is in no pattern any more" in trueup.made("garment", "blouse-1").out
    again = trueup.made("resolve", note, "--reopen", "--why", "it still gapes", "--json")
    assert again.document["note"]["is_open"]


def test_a_note_stays_open_where_a_step_cannot_have_mended_it(noted: tuple[Any, str]) -> None:
    trueup, note = noted
    old = trueup.step_of("own")
    style = trueup.step_of("blouse")
    assert "does not derive from own" in refused(trueup, "resolve", note, "--by", old)
    assert "is a style change" in refused(trueup, "resolve", note, "--by", style)
    assert "is no step of" in refused(trueup, "resolve", note, "--by", "nosuch")
    assert "is no step of easy" in refused(trueup, "resolve", note, "--by", old, "--at", "easy")
    assert "no fit note" in refused(trueup, "resolve", "note-nosuch", "--by", old)
    assert "nothing has to be taken back" in refused(trueup, "resolve", note, "--reopen")
    assert "--by STEP" in refused(trueup, "resolve", note)
    assert "--by STEP" in refused(trueup, "resolve", note, "--by", old, "--reopen")


def test_what_was_in_the_pattern_when_it_was_cut_cannot_have_mended_it(trueup: Any) -> None:
    trueup.made("cut", "own", "--date", "2025-03-01")
    note = trueup.made("note", "own-1", *GAPES, "--json").document["note"]["id"]
    step = trueup.step_of("own")
    assert "already when own-1 was cut" in refused(trueup, "resolve", note, "--by", step)
    trueup.made("amend", "own", step, "--by", "10mm")
    trueup.made("resolve", note, "--by", step)
    assert "already" in refused(trueup, "resolve", note, "--by", step)


def test_a_correction_says_at_once_what_it_mends(noted: tuple[Any, str]) -> None:
    trueup, note = noted
    other = trueup.made("note", "blouse-1", "neck-gapes", "--place", "front.neck", "--json")
    both = [note, other.document["note"]["id"]]
    words = ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "3mm")
    mends = [word for each in both for word in ("--mends", each)]
    before = trueup.contents()
    preview = trueup.made(*words, *mends, "--preview")
    assert f"mends 2 fit notes ({both[0]}, {both[1]})" in preview.out
    assert trueup.contents() == before
    document = trueup.made(*words, *mends, "--json").document
    step = document["correction"]["steps"][0]["id"]
    garment = trueup.made("garment", "blouse-1", "--json").document["garment"]
    assert [each["resolved_by"] for each in garment["notes"]] == [[step], [step]]
    trueup.made("undo")  # it was one step
    garment = trueup.made("garment", "blouse-1", "--json").document["garment"]
    assert garment["open_notes"] == both


def test_a_fitting_mends_with_all_its_steps(noted: tuple[Any, str], tmp_path: Path) -> None:
    trueup, note = noted
    file = tmp_path / "fitting.toml"
    file.write_text(
        "[[corrections]]\nkind='scoop-armhole'\npiece='front'\nby='3mm'\n"
        "[[corrections]]\nkind='shorten-shoulder'\nby='2mm'\n"
    )
    words = ("correct", "village", "--from", str(file), "--mends", note, "--json")
    steps = [each["id"] for each in trueup.made(*words).document["correction"]["steps"]]
    (found,) = trueup.made("garment", "blouse-1", "--json").document["garment"]["notes"]
    assert found["resolved_by"] == steps
    assert len(steps) == 2


def test_a_correction_mends_nothing_that_does_not_build_on_it(noted: tuple[Any, str]) -> None:
    trueup, note = noted
    words = ("scoop-armhole", "--piece", "front", "--by", "3mm", "--mends")
    assert "does not derive from own" in refused(trueup, "correct", "own", *words, note)
    assert "no fit note" in refused(trueup, "correct", "village", *words, "note-nosuch")
    assert "no option --mends" in refused(trueup, "style", "village", *words, note)
