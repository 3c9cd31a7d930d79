"""A small theatre's wardrobe, served live: one for all tests that only ask."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Playwright

from tests.browser.chromium import ARGUMENTS, Absent, chromium
from tests.cli.conftest import Trueup, build
from tests.live.running import Running, running
from tests.sharing.copied import copied

REBOUND = "theatre.example"
"""A name of somebody else's that leads to this machine."""


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("built") / "theatre"
    build(folder)
    return folder


@pytest.fixture
def wardrobe(built: Path, tmp_path: Path) -> Path:
    """A wardrobe of its own."""
    folder = tmp_path / "theatre"
    copied(built, folder)
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
    copied(built, folder)
    with running(folder, "--no-browser", is_anew=True) as served:
        yield served


@pytest.fixture(scope="session")
def browser(player: Playwright) -> Iterator[Browser]:
    """Chromium without a window, which finds this machine and one other name for it."""
    found = chromium(shutil.which, os.environ)
    if isinstance(found, Absent):
        if found.fails:
            pytest.fail(found.sentence)
        pytest.skip(found.sentence)
    rules = f"--host-resolver-rules=MAP {REBOUND} 127.0.0.1, MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"
    arguments = [each for each in ARGUMENTS if not each.startswith("--host-resolver-rules")]
    launched = player.chromium.launch(
        executable_path=found, headless=True, args=[*arguments, rules]
    )
    yield launched
    launched.close()
