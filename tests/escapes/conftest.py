"""One of everything, built once and copied for each test; the command runs in this process."""

import shutil
from pathlib import Path

import pytest

from tests.small_wardrobe import build
from tests.warm import Warm, environment


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("built")
    with Warm(place / "home") as trueup:
        build(trueup, place / "wardrobe")
    return place / "wardrobe"


@pytest.fixture
def folder(built: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name, value in environment(tmp_path / "home").items():
        monkeypatch.setenv(name, value)
    for name in ("COLUMNS", "FORCE_COLOR", "NO_COLOR"):
        monkeypatch.delenv(name, raising=False)
    (tmp_path / "home").mkdir()
    return Path(shutil.copytree(built, tmp_path / "wardrobe"))
