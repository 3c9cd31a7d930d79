"""What is kept of a step is what git would tell of it, and git is not asked for it again."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from trueup.lineage.store import Store
from trueup.lineage.store.git.quiet_git import QuietGit
from trueup.lineage.store.writing.step import current_branch


@pytest.fixture
def started(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The git commands that were started since, by their first words."""
    found: list[str] = []
    start = QuietGit._start

    def starting(self, arguments, feed):
        found.append(arguments[0])
        return start(self, arguments, feed)

    monkeypatch.setattr(QuietGit, "_start", starting)
    return found


def steps(store: Store) -> Iterator[str]:
    """Record steps that write, add and take out, among names that sort in every way."""
    for writes in (
        {"blocks/village.toml": b"2\n", "patterns/a.toml": b"one\n"},
        {"patterns/a-b.toml": b"two\n", "patterns/a/b.toml": b"", "patterns/ä.toml": b"one\n"},
        {"patterns/a.toml": None, "patterns/a-b.toml": b"2\n"},
    ):
        yield store.commit(writes, "Step", expected_head=store.head())


def test_what_is_kept_of_a_step_is_what_git_tells_of_it(store, folder):
    for commit in steps(store):
        with Store.open(folder) as another:
            told = another.listing(commit)
            kept = store.listing(commit)
            assert list(kept.items()) == list(told.items())
            assert kept.links == told.links
            assert store.read(kept.values()) == another.read(told.values())
            for most in (0, 1, 3):
                assert store.read(kept.values(), most) == another.read(told.values(), most)


def test_a_step_that_was_recorded_is_read_without_git(store, started):
    before = store.head()
    store.listing(before)
    started.clear()
    commit = store.commit({"blocks/village.toml": b"2\n"}, "Step", expected_head=before)
    assert "ls-tree" not in started
    started.clear()
    blob = store.listing(commit)["blocks/village.toml"]
    assert store.read([blob]) == {blob: b"2\n"}
    assert store.sizes([]) == {}
    assert started == []


@pytest.mark.parametrize("name", ["main", "as/drafted", "ä"])
def test_the_branch_is_the_one_git_names(store, folder, git, name):
    git("symbolic-ref", "HEAD", f"refs/heads/{name}")
    told = git("symbolic-ref", "HEAD")
    assert current_branch(QuietGit(folder, folder / ".git")) == told == f"refs/heads/{name}"


def test_on_no_branch_there_is_none(store, folder: Path, git):
    git("update-ref", "--no-deref", "HEAD", store.head())
    (folder / ".git/HEAD").write_text(f"{store.head()}\n")
    assert current_branch(QuietGit(folder, folder / ".git")) is None


@pytest.mark.skipif(not hasattr(os, "symlink"), reason="needs links")
def test_a_head_that_is_a_link_is_read_by_git(store, folder: Path):
    head = folder / ".git/HEAD"
    head.unlink()
    head.symlink_to("refs/heads/main")
    assert current_branch(QuietGit(folder, folder / ".git")) == "refs/heads/main"
