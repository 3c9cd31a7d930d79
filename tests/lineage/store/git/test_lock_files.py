"""Lock files: ours are taken away when their writer is dead, others' are named, readers pass."""

import os
import subprocess
import time

import pytest

from trueup.lineage.errors import Busy, Locked
from trueup.lineage.store import Store
from trueup.lineage.store.git import lock_files
from trueup.lineage.store.writing import unfinished
from trueup.lineage.store.writing.writers_lock import WritersLock

LOCKS = ("HEAD.lock", "index.lock", "packed-refs.lock", "config.lock", "refs/heads/main.lock")


def correct(store):
    return store.commit({"blocks/village.toml": b"new\n"}, "Correct", expected_head=store.head())


@pytest.mark.parametrize("name", LOCKS)
def test_a_reader_passes_every_lock(store, folder, name):
    (folder / ".git" / name).touch()
    with Store.open(folder) as reader:
        assert reader.listing("HEAD")
        assert reader.hand_edits() == ()
        assert [commit.subject for commit in reader.log()] == ["Start the village store"]


@pytest.mark.parametrize("name", ["HEAD.lock", "refs/heads/main.lock"])
def test_a_lock_left_by_the_git_of_a_dead_writer_is_taken_away(store, folder, name, assert_whole):
    unfinished.keep(folder / ".git", store.head(), "refs/heads/main")
    (folder / ".git" / name).touch()
    made = correct(store)
    assert store.head() == made
    assert_whole()
    assert not (folder / ".git" / name).exists()


def test_the_lock_of_an_index_that_was_being_brought_is_taken_away(store, folder, assert_whole):
    (folder / ".git" / "index.lock").write_bytes(b"trueup\n")
    correct(store)
    assert_whole()


@pytest.mark.parametrize("name", ["HEAD.lock", "index.lock", "refs/heads/main.lock"])
def test_anothers_lock_is_named_with_its_age_and_stays(store, folder, name, monkeypatch):
    monkeypatch.setattr(lock_files, "PATIENCE", 0.1)
    lock = folder / ".git" / name
    lock.touch()
    os.utime(lock, (time.time() - 7200, time.time() - 7200))
    with pytest.raises(Locked, match=rf"{name} has been there since 2 hours.*delete that file"):
        correct(store)
    assert lock.exists()
    lock.unlink()
    correct(store)


def test_a_lock_older_than_the_step_on_its_way_is_not_ours(store, folder, monkeypatch):
    monkeypatch.setattr(lock_files, "PATIENCE", 0.1)
    lock = folder / ".git" / "HEAD.lock"
    lock.touch()
    os.utime(lock, (time.time() - 60, time.time() - 60))
    unfinished.keep(folder / ".git", store.head(), "refs/heads/main")
    with pytest.raises(Locked):
        correct(store)
    assert lock.exists()


def test_a_git_that_outlives_its_writer_keeps_the_next_one_waiting(store, folder):
    git_dir = folder / ".git"
    first = WritersLock(folder, git_dir)
    first.take(1)
    living = subprocess.Popen(["sleep", "60"], pass_fds=first.inherited)
    first.let_go()
    second = WritersLock(folder, git_dir)
    try:
        with pytest.raises(Busy, match="killed"):
            second.take(0.1)
    finally:
        living.kill()
        living.wait()
    second.take(1)
    second.let_go()


def test_what_a_killed_git_left_while_objects_were_made_is_swept(store, folder, assert_whole):
    room = folder / ".git" / "trueup" / "making" / "objects" / "pack"
    room.mkdir(parents=True)
    (room / "tmp_pack_abc").write_bytes(b"half")
    (folder / ".git" / "trueup" / "index.lock").touch()
    (folder / ".git" / "trueup" / "step.new").touch()
    correct(store)
    assert_whole()
    assert sorted(p.name for p in (folder / ".git" / "trueup").iterdir()) == ["gits", "lock"]
