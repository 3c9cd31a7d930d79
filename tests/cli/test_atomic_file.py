"""Files that are written outside a wardrobe."""

import errno
import os
from pathlib import Path
from typing import Any

import pytest

from tests.refusals import refusing
from trueup.cli.atomic_file import write_new
from trueup.cli.failures import Misused, sentence_and_code


@pytest.mark.parametrize(
    "words",
    [
        ("export", "blouse", "blocks/new.svg"),
        ("sheet", "blouse", "patterns/blouse.pdf"),
        ("tree", "--picture", "photos/tree.png"),
        ("compare", "blouse", "village", "--picture", "garments/it.svg"),
        ("report", "photos/audit.md"),
        ("book", "photos/book.html"),
    ],
)
def test_nothing_is_written_where_the_next_step_would_take_it_up(
    trueup: Any, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    for folder in ("photos", "garments"):
        (trueup.folder / folder).mkdir(exist_ok=True)
    before = trueup.contents()
    monkeypatch.chdir(trueup.folder)
    answer = trueup(*words)
    assert answer.code == 2
    assert "write it beside their folders or outside the wardrobe" in answer.err
    assert trueup.contents() == before


@pytest.fixture(params=["nameless", "beside"])
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Both ways to write a file: on a system with nameless files, and on one without."""
    if request.param == "beside":
        monkeypatch.delattr(os, "O_TMPFILE", raising=False)


@pytest.mark.usefixtures("way")
def test_a_file_is_written_once_and_replaced_only_when_asked(tmp_path: Path) -> None:
    file = tmp_path / "book.html"
    write_new(file, b"first", replace=False)
    with refusing(Misused, match="is there already"):
        write_new(file, b"second", replace=False)
    assert file.read_bytes() == b"first"
    write_new(file, b"third", replace=True)
    assert file.read_bytes() == b"third"
    assert list(tmp_path.iterdir()) == [file]
    assert file.stat().st_mode & 0o777 == 0o666 & ~umask()


@pytest.mark.usefixtures("way")
def test_one_that_appears_while_it_is_written_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file, whole = tmp_path / "book.html", os.fsync

    def meanwhile(handle: int) -> None:
        whole(handle)
        file.write_bytes(b"somebody's own")

    monkeypatch.setattr(os, "fsync", meanwhile)
    with refusing(Misused, match="is there already"):
        write_new(file, b"pages", replace=False)
    assert file.read_bytes() == b"somebody's own"
    assert list(tmp_path.iterdir()) == [file]


@pytest.mark.usefixtures("way")
def test_one_stopped_while_it_writes_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stopped(_: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", stopped)
    with pytest.raises(KeyboardInterrupt):
        write_new(tmp_path / "book.html", b"pages", replace=False)
    assert list(tmp_path.iterdir()) == []


def test_a_file_is_written_though_its_other_name_cannot_be_taken_away(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def kept(_: str) -> None:
        raise OSError(errno.EIO, os.strerror(errno.EIO))

    monkeypatch.delattr(os, "O_TMPFILE", raising=False)
    with monkeypatch.context() as disk:
        disk.setattr(os, "unlink", kept)
        write_new(tmp_path / "book.html", b"pages", replace=False)
    assert (tmp_path / "book.html").read_bytes() == b"pages"


def umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


@pytest.mark.usefixtures("way")
def test_a_disk_that_is_full_is_told_with_the_file_and_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    file = tmp_path / "book.html"
    with pytest.raises(OSError, match="No space left") as raised:
        write_new(file, b"pages", replace=False)
    assert str(file) in sentence_and_code(raised.value)[0]
    assert list(tmp_path.iterdir()) == []
