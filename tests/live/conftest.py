"""A small theatre's wardrobe, served live: one for all tests that only ask."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.cli.conftest import Trueup, build
from tests.live.running import Running, running


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("built") / "theatre"
    build(folder)
    return folder


@pytest.fixture
def wardrobe(built: Path, tmp_path: Path) -> Path:
    """A wardrobe of its own."""
    folder = tmp_path / "theatre"
    shutil.copytree(built, folder)
    return folder


@pytest.fixture
def trueup(wardrobe: Path) -> Trueup:
    """The command in that wardrobe."""
    return Trueup(wardrobe)


@pytest.fixture
def live(wardrobe: Path) -> Iterator[Running]:
    """The wardrobe, served."""
    with running(wardrobe, "--no-browser") as served:
        yield served


@pytest.fixture(scope="module")
def shared(built: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    """A served wardrobe that no test writes to."""
    folder = tmp_path_factory.mktemp("shared") / "theatre"
    shutil.copytree(built, folder)
    with running(folder, "--no-browser") as served:
        yield served
