"""What is said when git fails: a stopped git is no damage, and damage is no missing wardrobe."""

import shutil
from pathlib import Path

import pytest

from tests.refusals import refusing
from trueup.lineage.errors import (
    CannotRead,
    CannotWrite,
    Damaged,
    GitSlow,
    GitStopped,
    Locked,
    NotAWardrobe,
)
from trueup.lineage.store import Store
from trueup.lineage.store.git import starting
from trueup.lineage.store.git.git_failures import judged
from trueup.lineage.store.git.quiet_git import QuietGit

HERE = Path("somewhere/.git")


@pytest.mark.parametrize(
    ("command", "status", "complaint", "error"),
    [
        ("cat-file", -9, "", GitStopped),
        ("rev-list", 128, "error: pack-objects died of signal 15", GitStopped),
        ("cat-file", 128, "fatal: Out of memory, malloc failed", GitStopped),
        ("fast-import", -25, "", CannotWrite),
        ("update-index", 128, "fatal: Unable to create '/w/.git/index.lock': File exists.", Locked),
        ("update-ref", 128, "fatal: unable to write: No space left on device", CannotWrite),
        ("fast-import", 128, "error: unable to create file: Permission denied", CannotWrite),
        ("init", 128, "fatal: could not set 'core.bare' to 'false'", CannotWrite),
        ("init", 128, "error: could not write config file config", CannotWrite),
        ("fast-import", 128, "fatal: cannot store pack file", CannotWrite),
        ("fast-import", 128, "fatal: fsync error on 'pack'", CannotWrite),
        ("cat-file", 128, "error: unable to open object: Permission denied", CannotRead),
        ("cat-file", 128, "fatal: loose object 12 is corrupt", Damaged),
        ("cat-file", 1, "", Damaged),
    ],
)
def test_each_complaint_stands_for_one_error(command, status, complaint, error):
    assert type(judged(HERE, command, status, complaint)) is error


@pytest.fixture
def dying_git(tmp_path, monkeypatch):
    """A git that is killed at one command, and is git at all others."""
    program = tmp_path / "dying-git"

    def at(command: str) -> None:
        real = shutil.which("git")
        program.write_text(
            f'#!/bin/sh\ncase " $* " in *" {command} "*) kill -9 $$ ;; esac\nexec {real} "$@"\n'
        )
        program.chmod(0o755)
        monkeypatch.setattr(starting, "git_program", lambda: str(program))

    return at


@pytest.mark.parametrize("command", ["cat-file", "ls-tree", "rev-list"])
def test_a_healthy_wardrobe_is_not_called_damaged_when_git_is_stopped(
    store, folder, dying_git, command
):
    dying_git(command)

    def read():
        with Store.open(folder) as again:
            again.listing("HEAD")
            list(again.log())

    with pytest.raises(GitStopped, match=r"signal 9.*run the command again"):
        read()


@pytest.mark.parametrize("command", ["fast-import", "update-ref", "update-index"])
def test_a_step_is_told_as_it_is_when_git_is_stopped(
    store, folder, dying_git, command, assert_whole, monkeypatch
):
    before = store.head()
    with monkeypatch.context():
        dying_git(command)
        with pytest.raises(CannotWrite) as caught:
            store.commit({"blocks/village.toml": b"new\n"}, "Correct", expected_head=before)
    monkeypatch.undo()
    assert ("nothing was recorded" in str(caught.value)) == (command != "update-index")
    assert (store.head() == before) == (command != "update-index")
    assert_whole()


def test_a_git_that_takes_too_long_is_stopped(store, folder, tmp_path, monkeypatch):
    slow = tmp_path / "slow-git"
    slow.write_text("#!/bin/sh\nexec sleep 600\n")
    slow.chmod(0o755)
    monkeypatch.setattr(starting, "git_program", lambda: str(slow))
    git = QuietGit(folder, folder / ".git", time_limit=0.1)
    with pytest.raises(GitSlow, match=r"took longer than 0\.1 s"):
        git.ask("rev-list", "HEAD")
    with pytest.raises(GitSlow), git.reading("rev-list", "HEAD") as output:
        output.read()


class TestDamageIsNotAMissingWardrobe:
    def refused(self, folder):
        with refusing(Damaged, match="restored") as caught:
            Store.open(folder)
        return str(caught.value)

    def object_of(self, folder, name, git):
        found = git("rev-parse", name)
        return folder / ".git" / "objects" / found[:2] / found[2:]

    @pytest.mark.parametrize("name", ["HEAD", "HEAD^{tree}", "HEAD:wardrobe.toml"])
    def test_a_missing_object_under_the_branch(self, store, folder, git, name):
        self.object_of(folder, name, git).unlink()
        self.refused(folder)

    def test_a_missing_pack(self, store, folder, git):
        git("repack", "-a", "-d", "-q")
        for pack in (folder / ".git" / "objects" / "pack").glob("*.pack"):
            pack.unlink()
        self.refused(folder)

    def test_a_missing_branch(self, store, folder):
        (folder / ".git" / "refs" / "heads" / "main").unlink()
        assert "branch main" in self.refused(folder)

    @pytest.mark.parametrize("name", ["HEAD", "objects", "refs"])
    def test_a_missing_part_of_the_repository(self, store, folder, name):
        place = folder / ".git" / name
        place.unlink() if place.is_file() else shutil.rmtree(place)
        assert name in self.refused(folder)

    @pytest.mark.parametrize("content", [b"", b"\0" * 21, b"ref: elsewhere\n", b"nonsense"])
    def test_a_head_that_names_nothing(self, store, folder, content):
        (folder / ".git" / "HEAD").write_bytes(content)
        self.refused(folder)

    def test_a_repository_that_never_held_anything_is_no_wardrobe(self, folder, git):
        folder.mkdir()
        git("init", "--quiet")
        with pytest.raises(NotAWardrobe, match="no version yet"):
            Store.open(folder)

    def test_a_repository_without_our_file_is_no_wardrobe(self, folder, git):
        folder.mkdir()
        git("init", "--quiet")
        git("commit", "--allow-empty", "--quiet", "-m", "Mine")
        with pytest.raises(NotAWardrobe, match=r"no wardrobe\.toml"):
            Store.open(folder)


@pytest.mark.parametrize(
    "content", [b"", b"\0" * 400, b"DIRC" + b"\xff" * 60], ids=["empty", "zeros", "nonsense"]
)
def test_a_broken_index_is_made_anew(store, folder, content, assert_whole):
    (folder / ".git" / "index").write_bytes(content)
    made = store.commit({"blocks/village.toml": b"new\n"}, "Correct", expected_head=store.head())
    assert store.head() == made
    assert_whole()


@pytest.mark.parametrize("kept", [0.3, 0.5, 0.7, 0.9, 0.97])
def test_an_index_that_was_cut_off_is_made_anew(store, folder, assert_whole, kept):
    many = {f"patterns/blouse-{n}.toml": f"a {n}\n".encode() for n in range(12)}
    before = store.commit(many, "Derive", expected_head=store.head())
    index = folder / ".git" / "index"
    content = index.read_bytes()
    index.write_bytes(content[: int(len(content) * kept)])
    made = store.commit({"blocks/village.toml": b"new\n"}, "Correct", expected_head=before)
    assert store.head() == made
    assert_whole()


class TestReadingNeedsNoPlaceToWrite:
    def read(self, folder):
        with Store.open(folder) as reader:
            assert reader.read(reader.listing("HEAD").values())
            assert reader.hand_edits() == ()
            assert list(reader.log())

    def test_no_temporary_folder(self, store, folder, monkeypatch):
        def full(*_, **__):
            raise OSError(28, "No space left on device")

        for name in ("TemporaryFile", "NamedTemporaryFile", "TemporaryDirectory", "mkdtemp"):
            monkeypatch.setattr(f"tempfile.{name}", full)
        self.read(folder)

    def test_no_room_for_a_lock(self, store, folder, monkeypatch):
        with monkeypatch.context() as during:
            during.setattr("trueup.lineage.store.writing.index.bring", lambda *_: 1 / 0)
            with pytest.raises(ZeroDivisionError):
                store.commit({"blocks/village.toml": b"new\n"}, "X", expected_head=store.head())
        room = folder / ".git" / "trueup"
        (room / "lock").unlink()
        (room / "lock").mkdir()
        self.read(folder)
