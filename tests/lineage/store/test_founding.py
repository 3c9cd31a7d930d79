from pathlib import Path

import pytest

from trueup.lineage.errors import CannotWrite, FolderNotEmpty, UnsafePath
from trueup.lineage.store import Store
from trueup.lineage.store.writing import founding, index, step, unfinished


def test_a_new_wardrobe_is_a_plain_repository_with_one_commit(store, folder, git, assert_whole):
    assert git("log", "--format=%s") == "Start the village store"
    assert git("symbolic-ref", "HEAD") == "refs/heads/main"
    files = assert_whole()
    assert files["wardrobe.toml"] == b'name = "Village store"\n'
    assert files[".gitattributes"] == b"* -text\n"


def test_an_existing_empty_folder_is_used_as_it_is(folder, files_at):
    folder.mkdir()
    before = folder.stat().st_ino
    Store.create(folder, {"wardrobe.toml": b"x\n"}, "Start")
    assert folder.stat().st_ino == before
    assert sorted(path.name for path in folder.iterdir()) == [
        ".git",
        ".gitattributes",
        "wardrobe.toml",
    ]


def test_a_folder_that_holds_something_is_refused_and_left_alone(folder):
    folder.mkdir()
    (folder / "mine.txt").write_text("mine")
    with pytest.raises(FolderNotEmpty, match="not an empty folder"):
        Store.create(folder, {"wardrobe.toml": b"x\n"}, "Start")
    assert [path.name for path in folder.iterdir()] == ["mine.txt"]


def test_a_file_where_the_folder_should_be_is_refused(folder):
    folder.write_text("mine")
    with pytest.raises(FolderNotEmpty):
        Store.create(folder, {"wardrobe.toml": b"x\n"}, "Start")
    assert folder.read_text() == "mine"


def test_a_second_start_in_the_same_folder_is_refused(store, folder):
    with pytest.raises(FolderNotEmpty):
        Store.create(folder, {"wardrobe.toml": b"other\n"}, "Start")


def test_a_bad_file_name_is_refused_before_anything_is_made(folder):
    with pytest.raises(UnsafePath):
        Store.create(folder, {"wardrobe.toml": b"x\n", "../out": b""}, "Start")
    assert not folder.exists()


def test_a_full_disk_leaves_no_folder_behind(folder, monkeypatch):
    def full(path: Path, content: bytes) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("trueup.lineage.store.files.working_files.write_file", full)
    with pytest.raises(CannotWrite, match="No space left"):
        Store.create(folder, {"wardrobe.toml": b"x\n"}, "Start")
    assert not folder.exists()


def test_what_a_killed_start_left_does_not_stand_in_the_way(folder):
    (folder / ".trueup-start-abc" / ".git").mkdir(parents=True)
    Store.create(folder, {"wardrobe.toml": b"x\n"}, "Start")
    assert not (folder / ".trueup-start-abc").exists()


@pytest.mark.parametrize(
    ("place", "moment"),
    [
        (step, "record"),
        (step, "move_branch"),
        (founding, "_prepare"),
        (index, "bring"),
        (unfinished, "forget"),
    ],
)
def test_a_start_killed_at_any_moment_leaves_nothing_or_a_wardrobe(
    place, moment, folder, python, assert_whole
):
    killed = python(
        """
        import importlib, os, sys
        from pathlib import Path
        from trueup.lineage.store import Store
        place = importlib.import_module(sys.argv[2])
        whole = getattr(place, sys.argv[3])
        def then_die(*arguments):
            whole(*arguments)
            os._exit(9)
        setattr(place, sys.argv[3], then_die)
        Store.create(Path(sys.argv[1]), {"wardrobe.toml": b"x", "blocks/a.toml": b"a"}, "Start")
        """,
        folder,
        place.__name__,
        moment,
    )
    killed.communicate()
    assert killed.returncode == 9
    if not (folder / ".git").exists():
        Store.create(folder, {"wardrobe.toml": b"x", "blocks/a.toml": b"a"}, "Start")
    assert assert_whole()["blocks/a.toml"] == b"a"


def test_a_start_killed_between_its_renames_is_finished_when_opened(folder, python, assert_whole):
    killed = python(
        """
        import os, sys
        from pathlib import Path
        from trueup.lineage.store import Store
        rename = Path.rename
        def rename_then_die(self, target):
            rename(self, target)
            os._exit(9)
        Path.rename = rename_then_die
        Store.create(Path(sys.argv[1]), {"wardrobe.toml": b"x", "blocks/a.toml": b"a"}, "Start")
        """,
        folder,
    )
    killed.communicate()
    assert killed.returncode == 9
    assert (folder / ".git").exists()
    assert not (folder / "wardrobe.toml").exists()
    with Store.open(folder):
        assert (folder / "wardrobe.toml").read_bytes() == b"x"
        assert (folder / "blocks" / "a.toml").read_bytes() == b"a"
