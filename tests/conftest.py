import gc
import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from playwright.sync_api import Playwright, sync_playwright

from tests.sharing.copied import KEPT_FOR_OTHERS

settings.register_profile(
    "house",
    deadline=None,
    # Where a change is to land, the same tests try the same examples; elsewhere others.
    derandomize=os.environ.get("TRUEUP_EXAMPLES") == "same",
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
settings.load_profile("house")


def pytest_collection_finish() -> None:
    """Look seldom for circles among what was loaded and collected: none of it goes before the end.

    A quarter of the time went into that.
    """
    gc.freeze()
    gc.set_threshold(70_000, 10, 10)


@pytest.fixture(scope="session", autouse=True)
def cache_of_the_tests(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Keep what is evaluated here, and in every command a test starts, away from the user's own."""
    place = tmp_path_factory.mktemp("cache")
    os.environ["TRUEUP_CACHE"] = str(place)
    return place


@pytest.fixture(autouse=True)
def nothing_kept_for_longer(cache_of_the_tests: Path) -> Iterator[None]:
    """Forget after a test what was kept of its own wardrobes: nobody opens them again.

    Whoever opens a new one looks over all that is kept, and there would be thousands.
    """
    before = {*cache_of_the_tests.glob("*/*.sqlite")}
    yield
    for kept in {*cache_of_the_tests.glob("*/*.sqlite")} - before - KEPT_FOR_OTHERS:
        kept.unlink(missing_ok=True)


@pytest.fixture(scope="session")
def player() -> Iterator[Playwright]:
    """What drives browsers: it can be started once in a process, whoever asks for it."""
    with sync_playwright() as started:
        yield started
