"""Files that are written outside a wardrobe."""

import errno
import os
from pathlib import Path
from typing import Any

import pytest

from cli.atomic_file import write_new
from cli.failures import sentence_and_code


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
