"""The command and a wardrobe that nothing happened to, for who harms copies of it."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.small_wardrobe import build
from tests.unprivileged import warm
from tests.warm import Warm


@pytest.fixture(scope="module")
def trueup(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Warm]:
    """The command, held by permissions where that can be arranged."""
    with warm(tmp_path_factory.mktemp("maker") / "home") as command:
        yield command


@pytest.fixture(scope="module")
def whole(trueup: Warm, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wardrobe that nothing happened to."""
    folder = tmp_path_factory.mktemp("whole") / "wardrobe"
    build(trueup, folder)
    return folder
