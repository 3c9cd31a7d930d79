"""The page of a block or pattern, where its history is not all there."""

import subprocess
from pathlib import Path
from typing import Any

import pytest

from tests.cli.book.opened import opened, text
from trueup.cli.book.pages.node_page import node_page
from trueup.cli.book.source import BookSource
from trueup.cli.opening import reading
from trueup.lineage import versions

CANNOT = "What came before cannot be drawn: git does not give all of it."


def lose(folder: Path, version: str, file: str) -> None:
    """Take out of a store what a file held in a version."""
    git = ["git", "-C", str(folder), "rev-parse", f"{version}:{file}"]
    blob = subprocess.run(git, check=True, capture_output=True, text=True).stdout.strip()
    (folder / ".git/objects" / blob[:2] / blob[2:]).unlink()


def test_versions_that_git_does_not_give_are_told_where_the_others_stand(
    trueup: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for amount in ("3mm", "4mm", "5mm"):
        trueup.made("style", "blouse", "lower-neck", "--piece", "front", "--by", amount)
    lose(trueup.folder, "HEAD~2", "patterns/blouse.toml")
    monkeypatch.setenv("TRUEUP_CACHE", str(tmp_path / "knows-nothing-yet"))
    trueup("book", str(tmp_path / "book.html"))
    book = opened(tmp_path / "book.html")
    page = book.page("pattern/blouse")
    assert page.count("<article class=version") == 1
    assert CANNOT in text(page)
    assert 'told on the <a href="#/start">first page</a>' in page
    assert "Of earlier versions git does not give" in text(book.page("start"))


def test_where_no_version_can_be_read_that_is_told(
    trueup: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for amount in ("3mm", "4mm"):
        trueup.made("style", "blouse", "lower-neck", "--piece", "front", "--by", amount)
    lose(trueup.folder, "HEAD~1", "patterns/blouse.toml")
    monkeypatch.setenv("TRUEUP_CACHE", str(tmp_path / "knows-nothing-yet"))
    trueup("book", str(tmp_path / "book.html"))
    page = opened(tmp_path / "book.html").page("pattern/blouse")
    assert "<article class=version" not in page
    assert f"Versions {CANNOT}" in text(page)


def test_where_a_history_is_only_longer_than_is_looked_at_git_is_not_blamed(
    trueup: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(versions, "MOST_MEASURED", 1)
    for amount in ("3mm", "4mm"):
        trueup.made("style", "blouse", "lower-neck", "--piece", "front", "--by", amount)
    with reading(trueup.folder, evaluated=True, cluster=None, as_json=False) as wardrobe:
        page = node_page(BookSource(wardrobe, 5), "blouse")
    assert page.count("<article class=version") == 1
    assert CANNOT not in text(page)


@pytest.mark.parametrize("most", ["0", "1", "9"])
def test_where_all_versions_are_there_nothing_is_said(
    trueup: Any, tmp_path: Path, most: str
) -> None:
    trueup.made("style", "blouse", "lower-neck", "--piece", "front", "--by", "3mm")
    trueup.made("book", str(tmp_path / "book.html"), "--versions", most)
    book = opened(tmp_path / "book.html")
    for address in ("block/village", "pattern/blouse"):
        assert CANNOT not in text(book.page(address))
