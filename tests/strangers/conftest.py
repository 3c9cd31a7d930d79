"""A wardrobe and its clone, built once; the command watched; what the clean ones answer."""

import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.small_wardrobe import build_two
from tests.strangers.ordeal import Case, undergo
from tests.strangers.watched import Watched
from tests.warm import Answer


@pytest.fixture(scope="module")
def trueup(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Watched]:
    """The command, under watch."""
    with Watched(tmp_path_factory.mktemp("maker") / "home") as command:
        yield command


@pytest.fixture(scope="module")
def built(trueup: Watched, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """A wardrobe, and the clone of another maker."""
    return build_two(trueup, tmp_path_factory.mktemp("built"))


@pytest.fixture(scope="module")
def clean(
    trueup: Watched, built: tuple[Path, Path], tmp_path_factory: pytest.TempPathFactory
) -> list[Answer]:
    """What the verbs answer where no stranger was at work."""
    answers = undergo(trueup, Case.of(built, tmp_path_factory.mktemp("clean")))
    assert [answer.code for answer in answers] == [0] * len(answers), answers
    return answers


@pytest.fixture
def case(built: tuple[Path, Path], tmp_path: Path) -> Iterator[Case]:
    """A copy of both, and what lies outside."""
    yield Case.of(built, tmp_path)
    # Not with Python, which cannot take away folders that lie deeper than it calls itself.
    subprocess.run(["rm", "-rf", str(tmp_path)], check=True)
