"""Which steps touched a file is asked of git once for a version, and is right for every other."""

import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.refusals import refusing
from trueup.lineage.errors import Damaged
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.store import Store
from trueup.lineage.store.git.quiet_git import QuietGit

BLOCK, PATTERN = "blocks/village.toml", "patterns/blouse.toml"
FIRST = {"wardrobe.toml": b'format = 1\nname = "x"\nunit = "cm"\n'}


def git(folder: Path, *words: str) -> str:
    identity = ("-c", "user.name=Mary", "-c", "user.email=mary@example.org")
    command = ["git", *identity, *words]
    done = subprocess.run(command, cwd=folder, check=True, capture_output=True, text=True)
    return done.stdout.strip()


@pytest.fixture(autouse=True)
def _a_cache_of_our_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TRUEUP_CACHE", str(tmp_path / "cache"))


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What git is asked for, of the long answers that are read while it runs."""
    commands: list[str] = []
    reading = QuietGit.reading

    def noted(self: QuietGit, *arguments: str, **more: Any) -> Any:
        commands.append(arguments[0])
        return reading(self, *arguments, **more)

    monkeypatch.setattr(QuietGit, "reading", noted)
    return commands


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A wardrobe of ten steps, by turns on one file and on another."""
    place = tmp_path / "wardrobe"
    with Store.create(place, FIRST, "Start") as store:
        for turn in range(10):
            path = (BLOCK, PATTERN)[turn % 2]
            store.commit({path: b"%d" % turn}, f"Step {turn}", expected_head=store.head())
    return place


def told(folder: Path, *paths: str, until: str = "HEAD") -> list[str]:
    with OpenWardrobe.open(folder) as wardrobe:
        return [each.subject for each in wardrobe.history(paths, until=until)]


def by_git(folder: Path, *paths: str, until: str = "HEAD") -> list[str]:
    order = ("--full-history", "--date-order")
    return git(folder, "log", *order, "--format=%s", until, "--", *paths).splitlines()


def test_the_history_is_walked_once_for_a_version(folder: Path, asked: list[str]) -> None:
    first = told(folder, PATTERN)
    assert "rev-list" in asked
    asked.clear()
    assert told(folder, PATTERN) == first == by_git(folder, PATTERN)
    assert "rev-list" not in asked


def _versions(folder: Path) -> Iterator[None]:
    yield
    with Store.open(folder) as store:
        store.commit({PATTERN: b"new"}, "Another", expected_head=store.head())
    yield
    git(folder, "reset", "-q", "--hard", "HEAD~3")
    yield
    git(folder, "checkout", "-q", "-b", "other", "HEAD~2")
    (folder / PATTERN).write_text("other")
    git(folder, "commit", "-qam", "On another branch")
    yield
    git(folder, "merge", "-q", "-X", "ours", "-m", "Join", "@{-1}")
    yield


def test_it_is_what_git_says_of_every_version(folder: Path) -> None:
    for _ in _versions(folder):
        for _ in range(2):
            for paths in ((BLOCK,), (PATTERN,), (BLOCK, PATTERN)):
                assert told(folder, *paths) == by_git(folder, *paths)
                earlier = told(folder, *paths, until="HEAD~1")
                assert earlier == by_git(folder, *paths, until="HEAD~1")


def test_a_walk_that_was_given_up_is_not_taken_for_a_whole_one(folder: Path) -> None:
    with OpenWardrobe.open(folder) as wardrobe:
        assert next(iter(wardrobe.history([PATTERN]))).subject == "Step 9"
    assert told(folder, PATTERN) == by_git(folder, PATTERN)


def test_a_copy_that_was_cut_off_and_is_whole_by_now_is_read_anew(
    folder: Path, tmp_path: Path
) -> None:
    copy = tmp_path / "copy"
    git(tmp_path, "clone", "-q", "--depth", "3", f"file://{folder}", str(copy))
    assert len(told(copy, PATTERN)) < 5
    git(copy, "fetch", "-q", "--unshallow")
    assert told(copy, PATTERN) == by_git(folder, PATTERN)


def test_a_step_that_is_missing_is_told_of(folder: Path) -> None:
    told(folder, PATTERN)
    lost = git(folder, "rev-parse", "HEAD~2")
    (folder / ".git" / "objects" / lost[:2] / lost[2:]).unlink()
    with refusing(Damaged, match="missing"):
        told(folder, PATTERN)
