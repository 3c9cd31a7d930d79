"""A step counts when its branch has moved, whatever git says of it."""

import pytest

from trueup.lineage.errors import MovedOn, StepUnclear
from trueup.lineage.store import Store
from trueup.lineage.store.writing import step, unfinished

STEP = {"blocks/village.toml": b"corrected\n"}


def correct(store):
    return store.commit(STEP, "Correct", expected_head=store.head())


@pytest.fixture
def no_log(folder):
    """Make the log of HEAD impossible to write: git then fails after the branch has moved."""
    log = folder / ".git" / "logs" / "HEAD"
    log.unlink()
    log.mkdir()
    (log / "in-the-way").touch()


def test_git_does_fail_where_a_log_cannot_be_written(store, git, no_log):
    """The trap is a trap: without this the tests below could not fail."""
    before = store.head()
    made = git("commit-tree", "-m", "Any", "-p", before, f"{before}^{{tree}}")
    git("update-ref", "refs/heads/main", made, before, fails=True)
    assert git("rev-parse", "main") == made


def test_a_step_whose_log_cannot_be_written_is_recorded_and_followed(store, no_log, assert_whole):
    made = correct(store)
    assert store.head() == made
    assert store.hand_edits() == ()
    assert assert_whole()["blocks/village.toml"] == b"corrected\n"


def test_what_cannot_be_seen_is_not_told_to_be_undone(store, folder, git, monkeypatch):
    real = step.look_up

    def blind(there, names):
        if list(names) == ["refs/heads/main"]:
            raise StepUnclear("x", "y")
        return real(there, names)

    monkeypatch.setattr(step, "look_up", blind)
    (folder / ".git" / "refs" / "heads" / "main.lock").touch()
    monkeypatch.setattr("trueup.lineage.store.git.lock_files.wait_until_free", lambda *paths: None)
    with pytest.raises(StepUnclear, match="do not repeat it yet"):
        correct(store)
    assert unfinished.read(folder / ".git") is not None


def test_a_step_that_cannot_be_dropped_is_not_told_to_be_dropped(store, folder, git, monkeypatch):
    def overtaken(*arguments):
        git("commit", "--allow-empty", "--quiet", "-m", "Overtake")
        move(*arguments)

    move = step.move_branch
    with monkeypatch.context() as during:
        during.setattr(step, "move_branch", overtaken)
        with pytest.raises(MovedOn):
            correct(store)
    assert unfinished.read(folder / ".git") is None


def test_a_step_on_its_way_is_finished_though_the_log_cannot_be_written(
    store, folder, no_log, monkeypatch, assert_whole
):
    def stop(*arguments):
        raise KeyboardInterrupt

    with monkeypatch.context() as during:
        during.setattr(step, "move_branch", stop)
        with pytest.raises(KeyboardInterrupt):
            correct(store)
    with Store.open(folder) as again:
        assert next(again.log()).subject == "Correct"
    assert assert_whole()["blocks/village.toml"] == b"corrected\n"
