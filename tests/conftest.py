import os
from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, settings
from playwright.sync_api import Playwright, sync_playwright

settings.register_profile(
    "house",
    deadline=None,
    # Where a change is to land, the same tests try the same examples; elsewhere others.
    derandomize=os.environ.get("TRUEUP_EXAMPLES") == "same",
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
settings.load_profile("house")


@pytest.fixture(scope="session", autouse=True)
def cache_of_the_tests(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Keep what is evaluated here, and in every command a test starts, away from the user's own."""
    os.environ["TRUEUP_CACHE"] = str(tmp_path_factory.mktemp("cache"))


@pytest.fixture(scope="session")
def player() -> Iterator[Playwright]:
    """What drives browsers: it can be started once in a process, whoever asks for it."""
    with sync_playwright() as started:
        yield started
