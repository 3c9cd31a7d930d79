"""Working files that cannot be read are put back; edits by hand are the maker's own."""

import json
import os
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import run
from tests.cli.restoring import damage, judging
from tests.cli.restoring.story import git
from tests.cli.restoring.test_names import aside, mended
from tests.cli.restoring.test_whole import WHOLE

PHOTO = "photos/"
FILES = (
    "wardrobe.toml",
    "blocks/village.toml",
    "blocks/traced.svg",
    "patterns/own.toml",
    "garments/blouse-1.toml",
    "garments/blouse-1.svg",
    "bodies/ada.toml",
    PHOTO,
    ".gitattributes",
)
BROKEN = ("emptied", "deleted", "link")


def place(trueup: Any, path: str) -> Path:
    if path == PHOTO:
        (found,) = (trueup.folder / "photos").iterdir()
        return Path(found)
    return Path(trueup.folder / path)


@pytest.mark.parametrize("path", FILES)
@pytest.mark.parametrize("name", BROKEN)
def test_a_file_that_cannot_be_read_is_put_back(
    trueup: Any, was: judging.Before, path: str, name: str
) -> None:
    file = place(trueup, path)
    damage.DAMAGES[name](file)
    lying = os.readlink(file) if file.is_symlink() else None
    out = mended(trueup, was)
    named = file.relative_to(trueup.folder).as_posix()
    assert f"{named}, " in out
    assert "its last version is put back" in out
    if name != "deleted":
        kept = aside(trueup) / named
        assert kept.is_symlink() or kept.exists()
        if lying is not None:
            assert os.readlink(kept) == lying


@pytest.mark.parametrize(
    "path",
    ["wardrobe.toml", "patterns/own.toml", "garments/blouse-1.svg", "bodies/ada.toml", PHOTO],
)
def test_half_a_file_is_put_back(trueup: Any, was: judging.Before, path: str) -> None:
    damage.halved(place(trueup, path))
    assert "it cannot be read (" in mended(trueup, was)


def test_all_files_at_once(trueup: Any, was: judging.Before) -> None:
    for path in was.files:
        damage.deleted(trueup.folder / path)
    mended(trueup, was)


@pytest.mark.parametrize("name", ["folder", "link"])
def test_a_folder_of_the_wardrobe_that_something_has_replaced(
    trueup: Any, was: judging.Before, name: str, tmp_path: Path
) -> None:
    for folder in ("patterns", "garments"):
        away = tmp_path / folder
        (trueup.folder / folder).rename(away)
        if name == "link":
            (trueup.folder / folder).symlink_to(away)
        else:
            (trueup.folder / folder).write_text("somebody put this here")
    before = judging.snapshot(tmp_path / "patterns")
    mended(trueup, was)
    assert judging.snapshot(tmp_path / "patterns") == before


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system knows no pipes")
def test_a_pipe_is_never_read(trueup: Any, was: judging.Before) -> None:
    for path in ("patterns/own.toml", ".git/HEAD", ".git/config", ".git/objects/x"):
        (trueup.folder / path).unlink(missing_ok=True)
        os.mkfifo(trueup.folder / path)
    os.mkfifo(trueup.folder / "patterns/cape.toml")
    mended(trueup, was)


def test_a_link_that_was_never_recorded_is_moved_aside(trueup: Any, was: judging.Before) -> None:
    (trueup.folder / "patterns/cape.toml").symlink_to("/etc/hostname")
    assert "patterns/cape.toml, a link, a pipe or a folder is in its place" in mended(trueup, was)
    assert (aside(trueup) / "patterns/cape.toml").is_symlink()


def test_a_new_file_that_cannot_be_read_is_the_makers_to_mend(trueup: Any) -> None:
    file = trueup.folder / "patterns/cape.toml"
    file.write_text("format = 1\nname = ")
    answer = trueup("restore")
    assert answer.code == 3
    (line,) = [each for each in answer.out.splitlines() if "cape" in each]
    assert line.endswith("mend it by hand, or take it out.")
    assert file.read_text() == "format = 1\nname = "


def test_a_file_of_a_later_format_is_not_damaged(trueup: Any) -> None:
    file = trueup.folder / "patterns/own.toml"
    newer = file.read_text().replace("format = 1", "format = 99")
    file.write_text(newer)
    answer = trueup("restore")
    assert answer.code == 3
    assert "patterns/own.toml, it cannot be read: a later trueup wrote it" in answer.out
    assert file.read_text() == newer


def test_the_marks_git_left_in_files_it_could_not_join_are_left_for_mend(
    trueup: Any, tmp_path: Path
) -> None:
    git(tmp_path, "clone", "--quiet", str(trueup.folder), "other")
    me = ("-c", "user.name=Ada", "-c", "user.email=ada@example.org")
    for folder, amount in ((trueup.folder, "4mm"), (tmp_path / "other", "5mm")):
        run("-C", str(folder), *("style", "vest", "lower-neck", "--piece", "front", "--by", amount))
    git(trueup.folder, *me, "pull", "--quiet", "--no-rebase", str(tmp_path / "other"), fails=True)
    lying = (trueup.folder / "patterns/vest.toml").read_text()
    assert "<<<<<<<" in lying
    answer = trueup("restore")
    assert answer.code == 3
    assert "trueup mend" in answer.out
    assert (trueup.folder / "patterns/vest.toml").read_text() == lying
    trueup.made("mend")
    assert trueup("restore").out == WHOLE


# --- recorded as it cannot be read ----------------------------------------------------------------


def committed(trueup: Any, path: str, content: bytes | None) -> None:
    """Record a file by git, as no verb would."""
    if content is None:
        (trueup.folder / path).unlink()
    else:
        (trueup.folder / path).write_bytes(content)
    me = ("-c", "user.name=Ada", "-c", "user.email=ada@example.org")
    git(trueup.folder, "add", "--all", path)
    git(trueup.folder, *me, "commit", "--quiet", "--message", f"Change {path}")


@pytest.mark.parametrize("content", [b"", b"format = 1\nname = ", bytes(100)])
def test_a_file_that_was_recorded_broken_comes_back_as_one_step(
    trueup: Any, was: judging.Before, content: bytes
) -> None:
    good = git(trueup.folder, "log", "-1", "--format=%H %s", "--", "patterns/own.toml")
    version, _, subject = good.partition(" ")
    committed(trueup, "patterns/own.toml", content)
    before = git(trueup.folder, "rev-parse", "HEAD")
    answer = trueup("restore")
    assert answer.code == 0, answer.out + answer.err
    assert f"put back, and recorded, as of {version[:10]}" in answer.out
    assert git(trueup.folder, "rev-parse", "HEAD~1") == before
    said = git(trueup.folder, "log", "-1", "--format=%s")
    assert said == f"Restore patterns/own.toml as of {version[:8]} ({subject})"
    assert judging.working_files(trueup.folder) == was.files
    assert trueup("restore").out == WHOLE
    told = said.replace("scoop-armhole", "hollow the armhole")
    assert told in trueup.made("history", "--last", "1").out


def test_several_such_files_are_one_step(trueup: Any, was: judging.Before) -> None:
    committed(trueup, "patterns/own.toml", b"")
    committed(trueup, "garments/blouse-1.svg", b"<svg")
    committed(trueup, "blocks/traced.svg", b"")
    count = int(git(trueup.folder, "rev-list", "--count", "HEAD"))
    assert trueup("restore").code == 0
    assert int(git(trueup.folder, "rev-list", "--count", "HEAD")) == count + 1
    assert judging.working_files(trueup.folder) == was.files
    assert trueup("restore").out == WHOLE


@pytest.mark.parametrize(
    "path", ["blocks/village.toml", "blocks/traced.svg", "garments/blouse-1.svg"]
)
def test_what_others_need_and_was_taken_out_comes_back(
    trueup: Any, was: judging.Before, path: str
) -> None:
    """A block whose patterns are still there, the drawing of a block, the outline of cut cloth."""
    committed(trueup, path, None)
    answer = trueup("restore")
    assert answer.code == 0, answer.out + answer.err
    assert f"{path}, it is missing: put back, and recorded, as of" in answer.out
    assert judging.working_files(trueup.folder) == was.files
    assert trueup("restore").out == WHOLE


def test_a_photo_that_was_taken_out_by_a_step_stays_out(trueup: Any) -> None:
    """Whoever took the picture of a wearer out meant it."""
    path = place(trueup, PHOTO).relative_to(trueup.folder).as_posix()
    committed(trueup, path, None)
    assert trueup("restore").out == WHOLE
    assert not (trueup.folder / path).exists()


def test_an_edit_that_mends_what_was_recorded_broken_is_the_makers_own(trueup: Any) -> None:
    good = (trueup.folder / "patterns/own.toml").read_text()
    committed(trueup, "patterns/own.toml", b"")
    (trueup.folder / "patterns/own.toml").write_text(good + "# typed in again\n")
    answer = trueup("restore")
    assert answer.code == 0
    assert answer.out.splitlines()[-1].endswith("left as they are: patterns/own.toml.")


def test_what_never_could_be_read_is_named(trueup: Any) -> None:
    committed(trueup, "patterns/cape.toml", b"format = 1\nname = ")
    answer = trueup("restore")
    assert answer.code == 3
    assert "patterns/cape.toml, it cannot be read as it was last recorded (" in answer.out


# --- files that are named -------------------------------------------------------------------------


def test_a_named_file_is_put_back_over_the_makers_own_edit(
    trueup: Any, was: judging.Before
) -> None:
    file = trueup.folder / "patterns/own.toml"
    other = trueup.folder / "patterns/vest.toml"
    for each in (file, other):
        each.write_text(each.read_text() + "# tried out\n")
    answer = trueup("restore", "patterns/own.toml")
    assert (answer.code, answer.err) == (0, "")
    assert "Mended\n  patterns/own.toml: its last version is put back." in answer.out
    assert file.read_bytes() == was.files["patterns/own.toml"]
    assert other.read_text().endswith("# tried out\n")
    assert (aside(trueup) / "patterns/own.toml").read_text().endswith("# tried out\n")
    head = git(trueup.folder, "rev-parse", "HEAD")
    assert head in was.steps
    again = trueup("restore", "patterns/own.toml")
    assert again.code == 0
    assert again.out == "As it was last recorded: patterns/own.toml.\n"


@pytest.mark.parametrize("name", ["halved", "deleted", "folder", "link"])
def test_a_named_file_is_put_back_whatever_is_there(
    trueup: Any, was: judging.Before, name: str
) -> None:
    damage.DAMAGES[name](trueup.folder / "garments/blouse-1.toml")
    absolute = str(trueup.folder / "garments/blouse-1.toml")
    assert trueup("restore", absolute, "./garments/../garments/blouse-1.toml").code == 0
    assert judging.working_files(trueup.folder) == was.files


def test_named_files_are_previewed(trueup: Any) -> None:
    file = trueup.folder / "patterns/own.toml"
    file.write_text("# nothing\n")
    before = judging.snapshot(trueup.folder)
    answer = trueup("restore", "patterns/own.toml", "--preview")
    assert answer.code == 3
    assert "To be mended\n  patterns/own.toml: its last version is put back." in answer.out
    assert answer.out.splitlines()[-1].endswith("restore patterns/own.toml")
    assert judging.snapshot(trueup.folder) == before


def test_a_named_file_recorded_broken_comes_back_from_before(
    trueup: Any, was: judging.Before
) -> None:
    committed(trueup, "patterns/own.toml", b"")
    assert trueup("restore", "patterns/own.toml").code == 0
    assert judging.working_files(trueup.folder) == was.files
    assert git(trueup.folder, "log", "-1", "--format=%s").startswith("Restore patterns/own.toml")


def test_a_named_file_that_a_step_took_out_comes_back_as_a_step(
    trueup: Any, was: judging.Before
) -> None:
    committed(trueup, "patterns/own.toml", None)
    assert trueup("restore", "patterns/own.toml").code == 0
    assert judging.working_files(trueup.folder) == was.files
    assert trueup("restore").out == WHOLE


@pytest.mark.parametrize(
    "path",
    ["patterns/nosuch.toml", "../elsewhere.toml", ".git/config", "/etc/hostname", "patterns"],
)
def test_what_is_no_file_of_the_wardrobe_cannot_be_named(trueup: Any, path: str) -> None:
    before = judging.snapshot(trueup.folder)
    answer = trueup("restore", path)
    assert answer.code == 2
    assert "Traceback" not in answer.err
    assert judging.UNEXPECTED not in answer.err
    assert judging.snapshot(trueup.folder) == before


def test_named_files_as_a_document(trueup: Any) -> None:
    (trueup.folder / "patterns/own.toml").unlink()
    document = json.loads(
        run("-C", str(trueup.folder), "restore", "patterns/own.toml", "--json").out
    )
    (finding,) = document["findings"]
    assert (finding["wrong"], finding["cure"]) == ("named", "from-history")
    assert document["whole"]
    assert document["aside"] is None
