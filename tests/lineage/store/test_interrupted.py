import os
import signal
import time

import pytest

from trueup.lineage.errors import WorkingFilesBehind
from trueup.lineage.store import HandEdit, Store

BEFORE = {
    "blocks/village.toml": b"kind = 'block'\n",
    "patterns/blouse.toml": b"parent = 'village'\n",
    "patterns/cape.toml": None,
}
AFTER = {
    "blocks/village.toml": b"corrected\n",
    "patterns/blouse.toml": None,
    "patterns/cape.toml": b"parent = 'blouse'\n",
}

ONE_STEP = """
    import importlib, os, sys
    from pathlib import Path
    from trueup.lineage.store import Store
    from trueup.lineage.store.writing import index
    from trueup.lineage.store.writing import step
    from trueup.lineage.store.writing import unfinished
    from trueup.lineage.store.files import working_files
    from trueup.lineage.store.writing import writer

    def kill_at(place, name, moment, count):
        whole = getattr(place, name)
        calls = []
        def watched(*arguments, **more):
            calls.append(1)
            if moment == "before" and len(calls) == count:
                os._exit(9)
            result = whole(*arguments, **more)
            if moment == "after" and len(calls) == count:
                os._exit(9)
            return result
        setattr(place, name, watched)

    folder, place, name, moment, count = sys.argv[1:]
    store = Store.open(Path(folder))
    head = store.head()
    kill_at(eval(place), name, moment, int(count))
    store.commit(
        {
            "blocks/village.toml": b"corrected\\n",
            "patterns/blouse.toml": None,
            "patterns/cape.toml": b"parent = 'blouse'\\n",
        },
        "Correct",
        expected_head=head,
    )
"""

MOMENTS = [
    ("working_files", "write_file", "before", 1),
    ("working_files", "write_file", "before", 2),
    ("step", "record", "before", 1),
    ("step", "_write_stream", "after", 1),
    ("step", "record", "after", 1),
    *[("os", "replace", "after", count) for count in range(1, 8)],
    ("unfinished", "keep", "after", 1),
    ("step", "move_branch", "after", 1),
    ("working_files", "exchange", "before", 1),
    ("working_files", "exchange", "after", 1),
    ("os", "link", "after", 1),
    ("os", "link", "after", 2),
    ("index", "bring", "before", 1),
    ("index", "bring", "after", 1),
    ("unfinished", "forget", "after", 2),
]
COUNTS_FROM = MOMENTS.index(("step", "move_branch", "after", 1))


def as_in(files, expected):
    return all(files.get(path) == content for path, content in expected.items())


@pytest.mark.parametrize("moment", MOMENTS, ids=lambda moment: "-".join(map(str, moment)))
def test_killed_at_any_moment_the_wardrobe_is_as_before_or_as_after(
    moment, store, folder, python, assert_whole
):
    killed = python(ONE_STEP, folder, *moment)
    _, complaint = killed.communicate()
    assert killed.returncode == 9, complaint
    files = assert_whole()
    assert as_in(files, BEFORE) or as_in(files, AFTER)
    if MOMENTS.index(moment) >= COUNTS_FROM:
        assert as_in(files, AFTER)
    with Store.open(folder) as again:
        again.commit({"blocks/village.toml": b"next\n"}, "Next", expected_head=again.head())
    assert assert_whole()["blocks/village.toml"] == b"next\n"


@pytest.mark.parametrize("with_its_git", [True, False], ids=["with its git", "alone"])
@pytest.mark.parametrize("milliseconds", range(0, 60, 10))
def test_killed_from_outside_the_wardrobe_is_whole(
    milliseconds, with_its_git, store, folder, python, assert_whole
):
    running = python(
        """
        import sys
        from pathlib import Path
        from trueup.lineage.store import Store
        store = Store.open(Path(sys.argv[1]))
        print("ready", flush=True)
        for number in range(1000):
            store.commit(
                {"blocks/a.toml": b"%d" % number, "blocks/b.toml": b"%d" % number},
                f"Step {number}",
                expected_head=store.head(),
            )
        """,
        folder,
    )
    assert running.stdout.readline() == "ready\n"
    time.sleep(0.03 + milliseconds / 1000)
    if with_its_git:
        os.killpg(running.pid, signal.SIGKILL)
    else:
        running.kill()
    running.communicate()
    assert running.returncode == -signal.SIGKILL
    if with_its_git:
        wait_for_the_rest_of(running.pid)
    Store.open(folder).close()
    if not with_its_git:
        wait_for_the_rest_of(running.pid)
    files = assert_whole()
    assert files.get("blocks/a.toml") == files.get("blocks/b.toml")
    with Store.open(folder) as again:
        recorded = [commit.subject for commit in again.log()]
    assert recorded[-1] == "Start the village store"
    assert recorded[:-1] == [f"Step {number}" for number in reversed(range(len(recorded) - 1))]


def wait_for_the_rest_of(group):
    """Wait for a git that outlives the process that started it; it may still record its step."""
    while True:
        try:
            os.killpg(group, 0)
        except ProcessLookupError:
            return
        time.sleep(0.01)


def interrupt(store, monkeypatch, name):
    """Stop a step dead just before the given part of it."""

    def stop(*arguments):
        raise KeyboardInterrupt

    with monkeypatch.context() as during:
        during.setattr(name, stop)
        with pytest.raises(KeyboardInterrupt):
            store.commit(AFTER, "Correct", expected_head=store.head())


def test_an_edit_made_after_the_kill_is_kept_and_shows(store, folder, monkeypatch):
    interrupt(store, monkeypatch, "trueup.lineage.store.files.working_files.WorkingFiles.bring")
    (folder / "blocks" / "village.toml").write_bytes(b"mine\n")
    with Store.open(folder) as again:
        assert (folder / "blocks" / "village.toml").read_bytes() == b"mine\n"
        assert not (folder / "patterns" / "blouse.toml").exists()
        assert again.hand_edits() == (HandEdit("blocks/village.toml", "changed"),)


def test_an_edit_made_before_the_branch_moved_drops_the_step(store, folder, monkeypatch):
    head = store.head()
    interrupt(store, monkeypatch, "trueup.lineage.store.writing.step.move_branch")
    (folder / "blocks" / "village.toml").write_bytes(b"mine\n")
    with Store.open(folder) as again:
        assert again.head() == head
        assert again.hand_edits() == (HandEdit("blocks/village.toml", "changed"),)


def test_a_step_the_branch_has_gone_past_is_dropped(store, git, monkeypatch, assert_whole):
    interrupt(store, monkeypatch, "trueup.lineage.store.writing.step.move_branch")
    git("commit", "--allow-empty", "--quiet", "-m", "My own")
    files = assert_whole()
    assert as_in(files, BEFORE)
    assert git("log", "-1", "--format=%s") == "My own"


def test_a_step_interrupted_in_this_process_is_settled_by_its_next_one(
    store, monkeypatch, assert_whole
):
    interrupt(store, monkeypatch, "trueup.lineage.store.writing.index.bring")
    store.commit({"blocks/village.toml": b"next\n"}, "Next", expected_head=store.head())
    assert assert_whole()["patterns/cape.toml"] == AFTER["patterns/cape.toml"]


def test_a_file_that_cannot_follow_is_told_and_follows_later(
    store, folder, monkeypatch, assert_whole
):
    def refuse(source, target):
        raise PermissionError(13, "Permission denied", str(source), None, str(target))

    with monkeypatch.context() as during:
        during.setattr("trueup.lineage.store.files.working_files.exchange", refuse)
        with pytest.raises(WorkingFilesBehind, match="do not repeat the step") as caught:
            store.commit(AFTER, "Correct", expected_head=store.head())
        assert caught.value.commit == store.head()
        assert "village.toml" in str(caught.value)
        with Store.open(folder) as reader:
            assert "patterns/cape.toml" in reader.listing("HEAD")
    assert as_in(assert_whole(), AFTER)


def test_an_interrupted_step_does_not_keep_a_reader_out(store, folder, monkeypatch):
    interrupt(store, monkeypatch, "trueup.lineage.store.writing.index.bring")
    with store._writer._lock._lock, Store.open(folder) as reader:
        assert reader.listing("HEAD")
