"""A wardrobe with something of everything in it, built once and copied for each test."""

from pathlib import Path

import pytest

from tests.cli.conftest import Trueup
from tests.cli.restoring import judging
from tests.cli.restoring.story import tell
from tests.sharing.copied import copied


@pytest.fixture(scope="session")
def told(tmp_path_factory: pytest.TempPathFactory) -> Path:
    room = tmp_path_factory.mktemp("told")
    tell(room / "wardrobe", room / "scratch")
    return room / "wardrobe"


@pytest.fixture(scope="session")
def was(told: Path) -> judging.Before:
    return judging.before(told)


@pytest.fixture
def trueup(told: Path, tmp_path: Path) -> Trueup:
    """The command in a copy of it."""
    return Trueup(copied(told, tmp_path / "wardrobe"))


@pytest.fixture
def clone(told: Path, tmp_path: Path) -> Path:
    """Another copy, that nothing happens to."""
    return copied(told, tmp_path / "clone")
