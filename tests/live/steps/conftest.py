"""Two wardrobes that are alike: one for the live page, one for the command."""

import os
import shutil
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import Browser, Playwright

from tests.browser.chromium import ARGUMENTS, Absent, chromium
from tests.cli.conftest import Trueup, build
from tests.live.running import Running, running
from tests.live.steps.live_page import LivePage, live_page
from tests.sharing.copied import copied
from trueup.cli.look.phone.network import local_address


@pytest.fixture(scope="module")
def browser(player: Playwright) -> Iterator[Browser]:
    """Chromium, which finds this machine and no other, by both its addresses."""
    found = chromium(shutil.which, os.environ)
    if isinstance(found, Absent):
        if found.fails:
            pytest.fail(found.sentence)
        pytest.skip(found.sentence)
    here = f"~NOTFOUND, EXCLUDE 127.0.0.1, EXCLUDE {local_address()}"
    how = [each.replace("~NOTFOUND", here) for each in ARGUMENTS]
    launched = player.chromium.launch(executable_path=found, headless=True, args=how)
    yield launched
    launched.close()


@pytest.fixture(scope="session")
def troubled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A theatre with a conflict that waits, and a garment cut before it was met."""
    folder = tmp_path_factory.mktemp("troubled") / "theatre"
    build(folder)
    trueup = Trueup(folder)
    trueup.made("cut", "blouse", "--name", "tea-blouse", "--wearer", "Ada")
    trueup.made("note", "tea-blouse", "armhole-binds", "--place", "front.armhole")
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")
    return folder


@pytest.fixture
def wardrobe(troubled: Path, tmp_path: Path) -> Path:
    folder = tmp_path / "live" / "theatre"
    copied(troubled, folder)
    return folder


@pytest.fixture
def live(wardrobe: Path) -> Iterator[Running]:
    with running(wardrobe, "--no-browser") as served:
        yield served


@pytest.fixture
def trueup(wardrobe: Path) -> Trueup:
    """The command in the wardrobe that is served."""
    return Trueup(wardrobe)


@pytest.fixture
def other(troubled: Path, tmp_path: Path) -> Trueup:
    """The command in a copy of it as it was."""
    folder = tmp_path / "other" / "theatre"
    copied(troubled, folder)
    return Trueup(folder)


@pytest.fixture
def show(browser: Browser, live: Running) -> Iterator[Any]:
    """Open a page of the served wardrobe, watched until the end of the test."""
    with ExitStack() as pages:

        def show_one(address: str, **how: Any) -> LivePage:
            return pages.enter_context(live_page(browser, live, address, **how))

        yield show_one


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    """A photo as a camera makes it: larger than is kept, and with a place in it."""
    made = tmp_path / "worn.jpg"
    picture = Image.effect_noise((2600, 1400), 40).convert("RGB")
    notes = Image.Exif()
    notes[0x010E] = "where it was taken"
    picture.save(made, exif=notes)
    return made
