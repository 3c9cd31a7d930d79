"""The browser, one for each worker, and books opened in it."""

import os
import shutil
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Playwright

from tests.browser.chromium import ARGUMENTS, Absent, chromium
from tests.browser.opened import OpenBook, Opened, opened


@pytest.fixture(scope="session")
def browser(player: Playwright) -> Iterator[Browser]:
    """Chromium without a window, with empty user data of its own."""
    found = chromium(shutil.which, os.environ)
    if isinstance(found, Absent):
        if found.fails:
            pytest.fail(found.sentence)
        pytest.skip(found.sentence)
    launched = player.chromium.launch(executable_path=found, headless=True, args=list(ARGUMENTS))
    yield launched
    launched.close()


@pytest.fixture
def open_book(browser: Browser) -> Iterator[OpenBook]:
    """Open books; the test fails at its end if one of them did what a book must not."""
    with ExitStack() as books:

        def open_one(file: Path, **how: Any) -> Opened:
            return books.enter_context(opened(browser, file, **how))

        yield open_one
