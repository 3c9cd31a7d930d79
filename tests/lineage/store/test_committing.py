from datetime import datetime, timedelta

import pytest

from trueup.lineage.errors import (
    Busy,
    CannotWrite,
    Detached,
    HandEdited,
    Locked,
    MovedOn,
    NoSuchFile,
    UnsafePath,
)
from trueup.lineage.store import Store
from trueup.lineage.store.files import working_files
from trueup.lineage.store.git import lock_files
from trueup.lineage.store.writing import step


def test_a_step_is_one_commit_with_its_message_and_facts(store, git):
    before = store.head()
    made = store.commit(
        {"blocks/village.toml": b"corrected\n"},
        "Hollow the armhole of village by 20 mm\n\nIt pulled across the front.",
        {"Node": "village", "Why": "pulls\n  across"},
        expected_head=before,
    )
    assert store.head() == made == git("rev-parse", "main")
    commit = next(store.log())
    assert commit.id == made
    assert commit.parents == (before,)
    assert commit.subject == "Hollow the armhole of village by 20 mm"
    assert commit.body == "It pulled across the front."
    assert commit.trailers == {"Node": "village", "Why": "pulls across"}
    assert commit.author == "Mary Tailor <mary@example.org>"
    assert abs(datetime.now(commit.when.tzinfo) - commit.when) < timedelta(hours=1)
    assert git("log", "-1", "--format=%(trailers:key=Why,valueonly)").strip() == "pulls across"


def test_files_are_written_added_and_taken_out_together(store, folder, git, assert_whole):
    store.commit(
        {
            "blocks/village.svg": b"<svg>new</svg>\n",
            "patterns/cape.toml": b"parent = 'village'\n",
            "photos/first fitting/\u00e4rmel.jpg": b"\xff\xd8\x00\r\n",
            "patterns/blouse.toml": None,
        },
        "Change several files",
        expected_head=store.head(),
    )
    files = assert_whole()
    assert files["photos/first fitting/\u00e4rmel.jpg"] == b"\xff\xd8\x00\r\n"
    assert "patterns/blouse.toml" not in files
    assert not (folder / "patterns" / "blouse.toml").exists()
    assert git("diff-tree", "--name-status", "--no-commit-id", "-r", "HEAD").count("\n") == 3


def test_line_ends_stay_as_they_are(store, folder, files_at):
    assert files_at(store)["patterns/tunic.toml"].count(b"\r\n") == 2
    assert (folder / "patterns" / "tunic.toml").read_bytes().count(b"\r\n") == 2


def test_a_step_that_changes_nothing_is_still_a_step(store, files_at):
    before, files = store.head(), files_at(store)
    assert store.commit({}, "Accept the uneven hem", expected_head=before) != before
    assert files_at(store) == files


def test_hundreds_of_files_go_into_one_step(store, assert_whole):
    many = {f"patterns/p{number}.toml": b"%d\n" % number for number in range(300)}
    store.commit(many, "Add many", expected_head=store.head())
    assert assert_whole().items() >= many.items()


def test_nothing_is_visible_before_the_commit(store, folder, files_at, monkeypatch):
    before = files_at(store)
    seen = []

    def look(*arguments):
        other = Store.open(folder)
        seen.append(files_at(other))
        assert (folder / "blocks" / "village.toml").read_bytes() == before["blocks/village.toml"]
        return move(*arguments)

    move = step.move_branch
    monkeypatch.setattr(step, "move_branch", look)
    store.commit({"blocks/village.toml": b"new\n"}, "Correct", expected_head=store.head())
    assert seen == [before]


def test_a_writer_that_comes_late_is_told_and_changes_nothing(store, assert_whole):
    first = store.head()
    second = store.commit({"blocks/village.toml": b"1\n"}, "One", expected_head=first)
    with pytest.raises(MovedOn, match="moved on") as caught:
        store.commit({"blocks/village.toml": b"2\n"}, "Two", expected_head=first)
    assert (caught.value.expected, caught.value.found) == (first, second)
    assert assert_whole()["blocks/village.toml"] == b"1\n"


def test_a_branch_moved_by_plain_git_in_mid_step_wins(store, git, monkeypatch, assert_whole):
    def overtaken(*arguments):
        git("commit", "--allow-empty", "--quiet", "-m", "Overtake")
        move(*arguments)

    move = step.move_branch
    monkeypatch.setattr(step, "move_branch", overtaken)
    with pytest.raises(MovedOn):
        store.commit({"blocks/village.toml": b"2\n"}, "Two", expected_head=store.head())
    assert assert_whole()["blocks/village.toml"] == b"kind = 'block'\n"
    assert git("log", "-1", "--format=%s") == "Overtake"


@pytest.mark.parametrize("new", [b"corrected\n", None])
def test_a_hand_edited_file_is_never_overwritten(store, folder, new):
    before = store.head()
    (folder / "blocks" / "village.toml").write_bytes(b"my own\n")
    with pytest.raises(HandEdited, match=r"blocks/village\.toml") as caught:
        store.commit(
            {"blocks/village.toml": new, "blocks/new.toml": b""}, "X", expected_head=before
        )
    assert caught.value.paths == ("blocks/village.toml",)
    assert store.head() == before
    assert (folder / "blocks" / "village.toml").read_bytes() == b"my own\n"
    assert not (folder / "blocks" / "new.toml").exists()


def test_an_unrecorded_file_is_never_overwritten(store, folder):
    (folder / "patterns" / "cape.toml").write_bytes(b"my own\n")
    with pytest.raises(HandEdited, match=r"cape\.toml"):
        store.commit({"patterns/cape.toml": b"other\n"}, "Derive", expected_head=store.head())
    assert (folder / "patterns" / "cape.toml").read_bytes() == b"my own\n"


def test_a_hand_edit_elsewhere_does_not_stand_in_the_way(store, folder, git):
    (folder / "patterns" / "tunic.toml").write_bytes(b"my own\n")
    store.commit({"blocks/village.toml": b"new\n"}, "Correct", expected_head=store.head())
    assert git("status", "--porcelain") == " M patterns/tunic.toml"


def test_hand_edits_can_be_taken_up_as_a_step(store, folder, assert_whole):
    (folder / "blocks" / "village.toml").write_bytes(b"my own\n")
    (folder / "patterns" / "cape.toml").write_bytes(b"new\n")
    (folder / "patterns" / "tunic.toml").unlink()
    taken = {
        edit.path: None if edit.kind == "deleted" else store.working_file(edit.path)
        for edit in store.hand_edits()
    }
    store.commit(taken, "Take up edits by hand", expected_head=store.head())
    files = assert_whole()
    assert files["blocks/village.toml"] == b"my own\n"
    assert "patterns/tunic.toml" not in files


def test_what_the_maker_put_into_the_index_stays_there(store, folder, git):
    (folder / "notes.txt").write_text("mine")
    git("add", "notes.txt")
    store.commit({"blocks/village.toml": b"new\n"}, "Correct", expected_head=store.head())
    assert git("status", "--porcelain") == "A  notes.txt"


def test_taking_out_a_file_that_is_not_there_is_refused(store):
    with pytest.raises(NoSuchFile, match=r"patterns/cape\.toml"):
        store.commit({"patterns/cape.toml": None}, "Drop", expected_head=store.head())


@pytest.mark.parametrize(
    ("path", "why"),
    [
        ("blocks", "folder of"),
        ("blocks/village.toml/x", "is a file"),
        ("blocks/Village.toml", "capital letters"),
        ("Blocks/other.toml", "capital letters"),
    ],
)
def test_a_new_file_must_have_room_beside_the_others(store, path, why):
    with pytest.raises(UnsafePath, match=why):
        store.commit({path: b""}, "Add", expected_head=store.head())


def test_a_step_without_a_message_is_a_mistake_of_the_caller(store):
    with pytest.raises(ValueError, match="message"):
        store.commit({}, " \n", expected_head=store.head())
    with pytest.raises(ValueError, match="trailer"):
        store.commit({}, "Step", {"two words": "x"}, expected_head=store.head())


def test_no_step_is_written_away_from_a_branch(store, git, assert_whole):
    store.commit({"blocks/village.toml": b"new\n"}, "Correct", expected_head=store.head())
    git("checkout", "--quiet", "--detach", "HEAD~1")
    with pytest.raises(Detached, match="git switch main"):
        store.commit({"blocks/village.toml": b"lost\n"}, "Lost", expected_head=store.head())
    assert assert_whole()["blocks/village.toml"] == b"kind = 'block'\n"


def test_a_step_goes_to_the_branch_the_maker_stands_on(store, git, assert_whole):
    git("switch", "--quiet", "-c", "trial/wide sleeves".replace(" ", "-"))
    store.commit({"blocks/village.toml": b"trial\n"}, "Try", expected_head=store.head())
    assert_whole()
    assert git("log", "-1", "--format=%s", "main") == "Start the village store"
    assert git("log", "-1", "--format=%s", "trial/wide-sleeves") == "Try"


def test_a_second_writer_is_told_to_wait(store, folder, monkeypatch):
    monkeypatch.setattr(lock_files, "PATIENCE", 0.1)
    with store.writing(), Store.open(folder) as other:
        with pytest.raises(Busy, match="try again"):
            other.commit({}, "Step", expected_head=other.head())
        assert other.listing("HEAD")  # reading goes on


def test_writing_may_be_entered_inside_itself(store):
    with store.writing(), store.writing():
        head = store.commit({}, "One", expected_head=store.head())
        store.commit({}, "Two", expected_head=head)


def test_closing_lets_go(store, folder, monkeypatch):
    monkeypatch.setattr(lock_files, "PATIENCE", 0.1)
    store.writing().__enter__()
    store.close()
    with Store.open(folder) as other, other.writing():
        pass


def test_a_git_command_at_work_is_waited_for(store, folder, monkeypatch):
    monkeypatch.setattr(lock_files, "PATIENCE", 0.1)
    (folder / ".git" / "index.lock").touch()
    head = store.head()
    with pytest.raises(Locked, match=r"index\.lock has been there since \d+ seconds"):
        store.commit({"blocks/village.toml": b"new\n"}, "Correct", expected_head=head)
    assert store.head() == head


class TestWhenTheDiskIsFull:
    @pytest.mark.parametrize("writes_before", [0, 1, 2])
    def test_everything_is_as_before(self, writes_before, store, monkeypatch, assert_whole):
        left = iter(range(writes_before))
        write = working_files.write_file

        def full(path, content):
            if next(left, None) is None:
                raise OSError(28, "No space left on device")
            write(path, content)

        before = store.head(), assert_whole()
        with monkeypatch.context() as during:
            during.setattr(working_files, "write_file", full)
            with pytest.raises(CannotWrite, match=r"No space left.*make room"):
                store.commit(
                    {f"blocks/{name}.toml": b"x" for name in "abc"}, "X", expected_head=before[0]
                )
        assert (store.head(), assert_whole()) == before

    @pytest.mark.parametrize("moment", ["contents", "objects"])
    def test_a_real_limit_on_what_may_be_written(self, moment, store, folder, python, assert_whole):
        before = store.head(), assert_whole()
        refused = python(
            """
            import os, resource, sys
            from pathlib import Path
            from trueup.lineage.errors import CannotWrite
            from trueup.lineage.store import Store
            from trueup.lineage.store.writing import step
            def limit():
                resource.setrlimit(resource.RLIMIT_FSIZE, (50_000, 50_000))
            if sys.argv[2] == "contents":
                limit()
            else:
                write = step._write_stream
                def write_then_limit(stream, *rest):
                    write(stream, *rest)
                    stream.flush()
                    limit()
                step._write_stream = write_then_limit
            store = Store.open(Path(sys.argv[1]))
            try:
                store.commit({"photos/a.jpg": os.urandom(99_000)}, "X", expected_head=store.head())
            except CannotWrite as error:
                print(error)
            """,
            folder,
            moment,
        )
        output, complaint = refused.communicate()
        assert "nothing was recorded" in output, complaint
        assert (store.head(), assert_whole()) == before
        assert not list((folder / ".git").glob("fast_import_crash_*"))


def test_a_folder_that_may_not_be_written_to_is_found_before_the_step(
    store, folder, monkeypatch, assert_whole
):
    head = store.head()
    access = working_files.os.access
    with monkeypatch.context() as during:
        during.setattr(
            working_files.os,
            "access",
            lambda place, mode: place != folder / "blocks" and access(place, mode),
        )
        with pytest.raises(CannotWrite, match="not allowed"):
            store.commit({"blocks/village.toml": b"new\n"}, "Correct", expected_head=head)
    assert store.head() == head
    assert_whole()
