"""HEAD, branches, their logs and git's settings, damaged and put right by the real command."""

from pathlib import Path
from typing import Any

import pytest

from tests.cli.restoring import damage, judging
from tests.cli.restoring.story import git
from tests.cli.restoring.test_whole import WHOLE

MAIN = ".git/refs/heads/main"
OF_MAIN = ".git/logs/refs/heads/main"
OF_HEAD = ".git/logs/HEAD"

HEADS = {
    "empty": b"",
    "zeros": bytes(21),
    "garbage": b"\xff\xfe main",
    "no branch": b"ref: refs/heads/nosuch\n",
    "no version": b"0" * 40 + b"\n",
    "leads out": b"ref: ../../../etc/passwd\n",
}


def mended(trueup: Any, was: judging.Before, *words: str) -> str:
    """Restore; everything must be as it was, and nothing be lost."""
    answer = trueup("restore", *words)
    assert answer.code == 0, answer.out + answer.err
    assert "Lost" not in answer.out
    assert judging.before(trueup.folder).steps >= was.steps
    assert judging.working_files(trueup.folder) == was.files
    assert git(trueup.folder, "fsck", "--full", "--strict", "--no-dangling") == ""
    assert git(trueup.folder, "status", "--porcelain", "--untracked-files=no") == ""
    assert trueup("restore").out == WHOLE
    return str(answer.out)


@pytest.mark.parametrize("name", HEADS)
def test_head_stands_on_its_branch_again(trueup: Any, was: judging.Before, name: str) -> None:
    (trueup.folder / ".git/HEAD").write_bytes(HEADS[name])
    assert ".git/HEAD, it names no branch that is there" in mended(trueup, was)
    assert (trueup.folder / ".git/HEAD").read_text() == "ref: refs/heads/main\n"


def test_head_goes_back_to_the_branch_it_was_last_on(trueup: Any, was: judging.Before) -> None:
    git(trueup.folder, "switch", "--quiet", "as-drafted")
    (trueup.folder / ".git/HEAD").write_bytes(b"")
    assert trueup("restore").code == 0
    assert git(trueup.folder, "symbolic-ref", "HEAD") == "refs/heads/as-drafted"
    assert git(trueup.folder, "status", "--porcelain", "--untracked-files=no") == ""
    assert judging.before(trueup.folder).steps == was.steps


@pytest.mark.parametrize("name", ["emptied", "zeros", "flipped", "deleted", "folder", "link"])
def test_a_branch_stands_where_its_log_says(trueup: Any, was: judging.Before, name: str) -> None:
    damage.DAMAGES[name](trueup.folder / MAIN)
    assert "put right from the log, it stands at" in mended(trueup, was)


NOT_A_VERSION = {
    "a letter exchanged": ("", "names the latest version {id}, and git holds no such version"),
    "a list of files": ("HEAD^{tree}", "names {id}, and that is no version but a tree of git's"),
    "a content": ("HEAD:wardrobe.toml", "names {id}, and that is no version but a blob of git's"),
}


@pytest.mark.parametrize("name", NOT_A_VERSION)
@pytest.mark.parametrize("place", [MAIN, ".git/HEAD"])
def test_a_name_of_what_is_no_version_is_told_and_put_right(
    trueup: Any, was: judging.Before, place: str, name: str
) -> None:
    stands_for, told = NOT_A_VERSION[name]
    head = git(trueup.folder, "rev-parse", "HEAD")
    other = ("1" if head.startswith("0") else "0") + head[1:]
    named = git(trueup.folder, "rev-parse", stands_for) if stands_for else other
    (trueup.folder / place).write_text(f"{named}\n")
    answer = trueup("tree")
    assert answer.code == 3
    who = "its branch main" if place == MAIN else "its HEAD"
    assert f".git is damaged: {who} {told.format(id=named)}" in " ".join(answer.err.split())
    assert "`trueup restore`" in answer.err
    assert "put right from the log" in mended(trueup, was)


def test_another_branch_that_names_no_version_is_moved_aside(
    trueup: Any, was: judging.Before
) -> None:
    tree = git(trueup.folder, "rev-parse", "HEAD^{tree}")
    (trueup.folder / ".git/refs/heads/winter").write_text(f"{tree}\n")
    out = mended(trueup, was)
    assert "refs/heads/winter, this name stands for nothing that can be read: moved aside." in out


def test_a_tag_may_stand_for_anything(trueup: Any) -> None:
    git(trueup.folder, "tag", "the-list", "HEAD^{tree}")
    assert trueup("restore").out == WHOLE


def test_a_branch_without_its_own_log_stands_where_heads_says(
    trueup: Any, was: judging.Before
) -> None:
    (trueup.folder / MAIN).write_text("")
    (trueup.folder / OF_MAIN).unlink()
    out = mended(trueup, was)
    assert "put right from the log" in out
    assert len((trueup.folder / OF_MAIN).read_text().splitlines()) > 10


def test_a_branch_without_any_log_stands_at_the_latest_whole_version(
    trueup: Any, was: judging.Before
) -> None:
    for place in (MAIN, OF_MAIN, OF_HEAD, ".git/packed-refs"):
        (trueup.folder / place).write_bytes(b"")
    out = mended(trueup, was)
    assert "refs/heads/main, this branch names no version that is whole" in out
    assert "put right from the history" in out


def test_a_packed_branch_that_moved_since_does_not_fall_back(
    trueup: Any, was: judging.Before
) -> None:
    """Its file is gone, and the packed names still hold where it stood long before."""
    assert "refs/heads/main" in (trueup.folder / ".git/packed-refs").read_text()
    (trueup.folder / MAIN).unlink()
    mended(trueup, was)


def test_a_step_that_no_log_names_but_whose_files_lie_here_is_kept(
    trueup: Any, was: judging.Before
) -> None:
    """The log could not be written when it was recorded, and then the branch's file was lost."""
    for place in (OF_MAIN, OF_HEAD):
        lines = (trueup.folder / place).read_bytes().splitlines(keepends=True)
        (trueup.folder / place).write_bytes(b"".join(lines[:-1]))
    (trueup.folder / MAIN).write_text("")
    mended(trueup, was)


def test_a_step_that_was_taken_out_by_git_does_not_come_back(trueup: Any) -> None:
    git(trueup.folder, "reset", "--quiet", "--hard", "HEAD~1")
    head = git(trueup.folder, "rev-parse", "HEAD")
    (trueup.folder / MAIN).write_text("")
    assert trueup("restore").code == 0
    assert git(trueup.folder, "rev-parse", "HEAD") == head


@pytest.mark.parametrize("name", ["emptied", "halved", "zeros", "flipped", "deleted", "folder"])
def test_packed_names_come_back_as_far_as_they_are_known(
    trueup: Any, was: judging.Before, name: str
) -> None:
    damage.DAMAGES[name](trueup.folder / ".git/packed-refs")
    mended(trueup, was)
    assert git(trueup.folder, "rev-parse", "as-drafted")


def test_another_branch_that_lost_its_last_step_stands_at_the_one_before(trueup: Any) -> None:
    git(trueup.folder, "switch", "--quiet", "--create", "winter")
    trueup.made("derive", "cape", "--from", "village")
    lost, kept = git(trueup.folder, "rev-parse", "HEAD", "HEAD~1").split()
    git(trueup.folder, "switch", "--quiet", "main")
    (trueup.folder / ".git/objects" / lost[:2] / lost[2:]).unlink()
    answer = trueup("restore")
    assert answer.code == 0
    assert f"1 step at the end of winter cannot be read. It stands at {kept[:10]}" in answer.out
    assert f"- {lost[:10]}" in answer.out
    assert git(trueup.folder, "rev-parse", "winter") == kept
    assert trueup("restore").out == WHOLE


def test_a_tag_that_stands_for_nothing_is_moved_aside(trueup: Any, was: judging.Before) -> None:
    (trueup.folder / ".git/refs/tags").mkdir(exist_ok=True)
    (trueup.folder / ".git/refs/tags/lost").write_text("1" * 40 + "\n")
    out = mended(trueup, was)
    assert "refs/tags/lost, this name stands for nothing that can be read: moved aside." in out
    assert (aside(trueup) / ".git/refs/tags/lost").read_text() == "1" * 40 + "\n"


def aside(trueup: Any) -> Path:
    (place,) = (trueup.folder / ".git/trueup/aside").iterdir()
    return Path(place)


@pytest.mark.parametrize("place", [OF_MAIN, OF_HEAD])
@pytest.mark.parametrize("name", ["halved", "flipped", "deleted", "folder"])
def test_logs_are_made_whole_and_go_on(
    trueup: Any, was: judging.Before, place: str, name: str
) -> None:
    damage.DAMAGES[name](trueup.folder / place)
    mended(trueup, was)
    trueup.made("derive", "cape", "--from", "village")
    last = (trueup.folder / place).read_text().splitlines()[-1]
    assert last.split()[1] == git(trueup.folder, "rev-parse", "HEAD")


def test_a_log_in_a_folder_that_is_missing_is_made_anew(trueup: Any, was: judging.Before) -> None:
    (trueup.folder / ".git/logs").rename(trueup.folder.parent / "logs")
    mended(trueup, was)
    (trueup.folder / MAIN).write_text("")
    mended_again = trueup("restore")
    assert "put right from the log" in mended_again.out
    assert judging.before(trueup.folder).steps == was.steps


def test_a_maker_who_wants_no_logs_is_not_given_any(trueup: Any) -> None:
    git(trueup.folder, "config", "core.logAllRefUpdates", "false")
    (trueup.folder / ".git/logs").rename(trueup.folder.parent / "logs")
    assert trueup("restore").out == WHOLE


SETTINGS = {
    "empty": b"",
    "garbage": b"\x00\x01[core",
    "cut off": b"[core]\n\trepositoryformatversion = 0\n\tfilemode = tr",
    "another version": b"[core]\n\trepositoryformatversion = 8\n",
    "another hash": b"[core]\nrepositoryformatversion = 1\n[extensions]\nobjectformat = sha256\n",
    "unknown extension": b"[core]\n\trepositoryformatversion = 1\n[extensions]\n\tnosuch = 1\n",
}


@pytest.mark.parametrize("name", SETTINGS)
def test_settings_that_git_cannot_use_are_written_anew(
    trueup: Any, was: judging.Before, name: str
) -> None:
    (trueup.folder / ".git/config").write_bytes(SETTINGS[name])
    assert ".git/config, git cannot use these settings: made anew." in mended(trueup, was)
    assert (aside(trueup) / ".git/config").read_bytes() == SETTINGS[name]


def test_what_can_be_read_of_damaged_settings_is_kept(trueup: Any, was: judging.Before) -> None:
    git(trueup.folder, "remote", "add", "attic", "/attic/wardrobe")
    file = trueup.folder / ".git/config"
    file.write_bytes(b"[core\nrepositoryformatversion = 0\n" + file.read_bytes().split(b"\n", 1)[1])
    mended(trueup, was)
    assert git(trueup.folder, "remote", "get-url", "attic") == "/attic/wardrobe"


@pytest.mark.parametrize("name", ["halved", "zeros", "deleted", "link"])
def test_the_index_is_rebuilt_from_the_latest_version(
    trueup: Any, was: judging.Before, name: str
) -> None:
    damage.DAMAGES[name](trueup.folder / ".git/index")
    assert "made anew" in mended(trueup, was)


def test_an_index_that_names_what_is_not_stored_is_rebuilt(
    trueup: Any, was: judging.Before
) -> None:
    index = f"100644,{'1' * 40},patterns/lost.toml"
    git(trueup.folder, "update-index", "--add", "--cacheinfo", index)
    assert ".git/index, git cannot use its list of the files: made anew." in mended(trueup, was)


@pytest.mark.parametrize("name", ["objects", "refs", "logs", "trueup", "info"])
def test_a_folder_of_gits_that_a_file_has_replaced(
    trueup: Any, was: judging.Before, name: str, clone: Path
) -> None:
    place = trueup.folder / ".git" / name
    if place.exists():
        place.rename(trueup.folder.parent / "away")
    place.write_text("somebody put this here")
    mended(trueup, was, "--from", str(clone))
    assert (aside(trueup) / ".git" / name).read_text() == "somebody put this here"


@pytest.mark.parametrize("name", ["MERGE_HEAD", "FETCH_HEAD"])
def test_what_git_keeps_of_a_merge_that_names_nothing_is_moved_aside(
    trueup: Any, was: judging.Before, name: str
) -> None:
    (trueup.folder / ".git" / name).write_bytes(b"\xff\n")
    assert f".git/{name}, it names a version that is not here: moved aside." in mended(trueup, was)


@pytest.mark.parametrize("name", ["nothing", "no id", "a list of files", "no version that is here"])
def test_a_merge_of_what_is_no_version_is_told_as_damage(
    trueup: Any, was: judging.Before, name: str
) -> None:
    tree = git(trueup.folder, "rev-parse", "HEAD^{tree}")
    contents = {"nothing": "", "no id": "winter\n", "a list of files": f"{tree}\n"}
    (trueup.folder / ".git/MERGE_HEAD").write_text(contents.get(name, "1" * 40 + "\n"))
    answer = trueup("tree")
    assert answer.code == 3
    assert "MERGE_HEAD" in answer.err
    assert "`trueup restore`" in answer.err
    out = mended(trueup, was)
    assert ".git/MERGE_HEAD, it names a version that is not here: moved aside." in out
