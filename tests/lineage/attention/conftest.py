"""The small theatre with its block corrected, so that every kind of conflict waits below it."""

from pathlib import Path

import pytest

from tests.cli.conftest import Trueup, build
from tests.sharing.copied import copied


@pytest.fixture(scope="session")
def hollowed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wardrobe, made once: copy it."""
    folder = tmp_path_factory.mktemp("hollowed") / "theatre"
    build(folder)
    trueup = Trueup(folder)
    trueup.made("derive", "stays", "--from", "village")
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")
    return folder


@pytest.fixture
def trueup(hollowed: Path, tmp_path: Path) -> Trueup:
    """The command in a copy of it."""
    return Trueup(copied(hollowed, tmp_path / "theatre"))
