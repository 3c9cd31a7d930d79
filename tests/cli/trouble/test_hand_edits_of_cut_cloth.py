"""Cut cloth is a fact: what edits by hand change of it is asked for, and all is read before."""

import os
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from tests.cli.trouble.test_bad_input import refused
from trueup.lineage.wardrobe import Wardrobe

NEXT = ("style", "vest", "lengthen", "--by", "10mm")
RECORD, OUTLINE = "garments/blouse-1.toml", "garments/blouse-1.svg"


@pytest.fixture
def worn(trueup: Any, tmp_path: Path) -> Any:
    """The wardrobe with one blouse cut from it, and a fit note with a photo."""
    trueup.made("cut", "blouse", "--wearer", "Ada", "--date", "2025-03-01")
    photo = tmp_path / "fitting.png"
    Image.new("RGB", (60, 40), "red").save(photo)
    seen = ("armhole-gapes", "--place", "front.armhole", "--photo", str(photo))
    trueup.made("note", "blouse-1", *seen)
    return trueup


def photo_of(worn: Any) -> str:
    with Wardrobe.open(worn.folder) as wardrobe:
        return wardrobe.state.garment("blouse-1").notes[0].photo


def refused_and_kept(worn: Any, *words: str) -> str:
    """Return the sentence a step is refused with; nothing is recorded or changed."""
    before = worn.contents()
    sentence = refused(worn, *words)
    assert worn.contents() == before
    return sentence


def spoil(file: Path, how: str) -> None:
    content = file.read_bytes()
    match how:
        case "deleted":
            file.unlink()
        case "emptied":
            file.write_bytes(b"")
        case "zeros":
            file.write_bytes(bytes(len(content)))
        case "halved":
            file.write_bytes(content[: len(content) // 2])
        case "replaced":
            file.write_bytes(content.replace(b"L", b"L 1,1 L", 1))


@pytest.mark.parametrize("how", ["deleted", "emptied", "zeros", "halved", "replaced"])
def test_the_outline_of_cut_cloth_stays_until_it_is_asked_for(worn: Any, how: str) -> None:
    spoil(worn.folder / OUTLINE, how)
    for words in (NEXT, ("keep",), ("garment", "blouse-1", "--status", "worn")):
        sentence = refused_and_kept(worn, *words)
        assert sentence.startswith(OUTLINE)
        assert f"`trueup restore {OUTLINE}`" in sentence
        assert f"`trueup keep {OUTLINE} --why TEXT`" in sentence


@pytest.mark.parametrize("how", ["emptied", "zeros", "halved"])
def test_an_outline_nobody_can_read_is_not_even_taken_when_asked_for(worn: Any, how: str) -> None:
    spoil(worn.folder / OUTLINE, how)
    assert OUTLINE in worn("keep", OUTLINE, "--why", "the cat").err
    with Wardrobe.open(worn.folder) as wardrobe:
        assert [edit.path for edit in wardrobe.hand_edits()] == [OUTLINE]


def test_a_drawing_of_the_same_cloth_is_taken_up(worn: Any) -> None:
    file = worn.folder / OUTLINE
    file.write_bytes(file.read_bytes().replace(b"</svg>", b"<!-- linen, washed --></svg>"))
    assert OUTLINE in worn.made(*NEXT).err


@pytest.mark.parametrize("how", ["deleted", "emptied", "zeros", "halved"])
def test_a_photo_of_a_fit_note_stays_until_it_is_asked_for(worn: Any, how: str) -> None:
    photo = photo_of(worn)
    spoil(worn.folder / photo, how)
    sentence = refused_and_kept(worn, *NEXT)
    assert sentence.startswith(photo)
    assert f"`trueup restore {photo}`" in sentence


def test_so_does_one_that_was_painted_over(worn: Any) -> None:
    photo = photo_of(worn)
    Image.new("RGB", (60, 40), "blue").save(worn.folder / photo)
    assert refused_and_kept(worn, *NEXT).startswith(photo)
    worn.made("keep", photo, "--why", "her face is to be seen on it")


def test_the_record_of_a_garment_stays_until_it_is_asked_for(worn: Any) -> None:
    (worn.folder / RECORD).unlink()
    (worn.folder / OUTLINE).unlink()
    sentence = refused_and_kept(worn, *NEXT)
    assert RECORD in sentence
    assert "is deleted" in sentence
    answer = worn.made("keep", RECORD, "--why", "cut from another pattern")
    assert "armhole-gapes at front.armhole" in answer.err
    assert "none was cut" in refused(worn, "garment", "blouse-1")


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('pattern = "blouse"', 'pattern = "vest"', "the pattern it was cut from"),
        ("cut_on = 2025-03-01", "cut_on = 2025-03-02", "the day it was cut"),
    ],
)
def test_what_a_garment_was_cut_from_stays_until_it_is_asked_for(
    worn: Any, old: str, new: str, said: str
) -> None:
    file = worn.folder / RECORD
    file.write_text(file.read_text().replace(old, new))
    assert said in refused_and_kept(worn, *NEXT)
    told = worn.made("garment", "blouse-1", "--json")
    assert told.document["garment"]["pattern"] == "blouse"
    assert f"Answered from {RECORD} as it was recorded last" in told.err
    worn.made("keep", RECORD, "--why", "I mixed them up")
    assert new in file.read_text()


def test_what_else_is_told_of_a_garment_is_the_makers_to_change(worn: Any) -> None:
    file = worn.folder / RECORD
    file.write_text(file.read_text().replace('wearer = "Ada"', 'wearer = "Ida"'))
    assert RECORD in worn.made(*NEXT).err


def test_a_fit_note_taken_out_by_hand_is_named(worn: Any) -> None:
    worn.made("note", "blouse-1", "neck-gapes", "--place", "front.neck")
    file = worn.folder / RECORD
    text = file.read_text()
    start = text.index("[[notes]]")
    file.write_text(text[:start] + text[text.index("[[notes]]", start + 1) :])
    assert "They take out armhole-gapes at front.armhole (note-" in worn.made(*NEXT).err


def test_a_garment_may_be_given_another_name(worn: Any) -> None:
    record = worn.folder / RECORD
    text = record.read_text().replace('name = "blouse-1"', 'name = "first-night"')
    record.with_name("first-night.toml").write_text(text)
    record.unlink()
    (worn.folder / OUTLINE).rename(worn.folder / "garments/first-night.svg")
    worn.made(*NEXT)
    assert "first-night" in worn.made("garments").out


def test_a_spoiled_record_is_told_and_kept(worn: Any) -> None:
    (worn.folder / RECORD).write_bytes(b"")
    before = worn.contents()
    answer = worn(*NEXT)
    assert answer.code != 0
    assert RECORD in answer.err
    assert worn.contents() == before


# --- whatever else is put there is read before it is recorded -------------------------------------


@pytest.mark.parametrize("name", ["new.jpg", "new.PNG", "new.webp", "new.jpeg"])
def test_a_photo_put_there_must_be_a_picture(worn: Any, name: str) -> None:
    (worn.folder / "photos" / name).write_bytes(b"no picture")
    sentence = refused_and_kept(worn, *NEXT)
    assert f"photos/{name} is no photo to keep: it cannot be read as a picture" in sentence


def test_a_picture_put_there_is_taken_up(worn: Any) -> None:
    Image.new("RGB", (60, 40), "blue").save(worn.folder / "photos/first-night.jpg")
    assert "photos/first-night.jpg" in worn.made(*NEXT).err


def test_a_picture_of_too_many_pixels_is_refused(worn: Any) -> None:
    Image.new("1", (10_000, 5_001)).save(worn.folder / "photos/wall.png")
    assert "more than 50 megapixels" in refused_and_kept(worn, *NEXT)


@pytest.mark.parametrize("path", ["photos/film.mov", "photos/x.jpg", "blocks/x.toml", "garments/x"])
def test_a_file_larger_than_any_is_refused_before_it_is_read(worn: Any, path: str) -> None:
    with (worn.folder / path).open("wb") as file:
        os.truncate(file.fileno(), 2**41)  # two terabytes of nothing: no reader comes to its end
    answer = worn("keep")
    assert answer.code == 2
    assert path in answer.err
    assert "is larger than" in answer.err
    assert path in worn("check", "vest").err


def test_a_recorded_file_that_became_larger_than_any_is_refused_too(worn: Any) -> None:
    with (worn.folder / photo_of(worn)).open("r+b") as file:
        os.truncate(file.fileno(), 2**41)
    answer = worn(*NEXT)
    assert answer.code == 2
    assert "is larger than" in answer.err
    worn.made("garments")


def test_more_than_a_step_may_hold_is_refused_whole(worn: Any) -> None:
    for number in range(5):
        with (worn.folder / f"photos/film-{number}.mov").open("wb") as file:
            os.truncate(file.fileno(), 60_000_000)
    assert "MB together" in refused_and_kept(worn, *NEXT)


def test_a_garment_put_there_must_have_an_outline_that_can_be_read(worn: Any) -> None:
    text = (worn.folder / RECORD).read_text().replace('"blouse-1"', '"other"')
    (worn.folder / "garments/other.toml").write_text(text.partition("[[notes]]")[0])
    (worn.folder / "garments/other.svg").write_text("<svg/>")
    answer = worn(*NEXT)
    assert answer.code != 0
    assert "garments/other.svg" in answer.err


def test_undo_takes_back_what_was_kept_of_cut_cloth(worn: Any) -> None:
    before = worn.contents()
    (worn.folder / RECORD).unlink()
    (worn.folder / OUTLINE).unlink()
    (worn.folder / photo_of_recorded(before)).unlink()
    worn.made("keep", RECORD, "--why", "cut from another pattern")
    worn.made("undo")
    assert {**worn.contents(), "HEAD": b""} == {**before, "HEAD": b""}


def photo_of_recorded(contents: dict[str, bytes]) -> str:
    return next(path for path in contents if path.startswith("photos/"))
