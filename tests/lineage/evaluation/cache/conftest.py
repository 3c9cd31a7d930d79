"""A cache folder of the test's own, and a user who is not the superuser."""

import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

PLAIN_USER = 65534  # nobody, on every system


@pytest.fixture(autouse=True)
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder that the cache folder is made in."""
    folder = tmp_path / "place"
    folder.mkdir()
    monkeypatch.setenv("TRUEUP_CACHE", str(folder))
    return folder


@pytest.fixture
def plain_place(monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """The same for a user whom permissions hold back, whoever runs the tests."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        monkeypatch.setenv("TRUEUP_CACHE", name)
        is_superuser = os.geteuid() == 0
        if is_superuser:
            os.chown(folder, PLAIN_USER, PLAIN_USER)
            os.seteuid(PLAIN_USER)
        try:
            yield folder
        finally:
            if is_superuser:
                os.seteuid(0)
            for each in [folder, *folder.rglob("*")]:
                each.chmod(0o700)
