"""Two makers, each with a clone of one wardrobe."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.cli.commands.upkeep.two_makers import clone
from tests.cli.conftest import Trueup


@pytest.fixture(scope="module")
def maker(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Whom git knows as the maker here."""
    home = tmp_path_factory.mktemp("home")
    (home / ".gitconfig").write_text("[user]\nname = Mary Tailor\nemail = mary@example.org\n")
    with pytest.MonkeyPatch.context() as monkeypatch:
        monkeypatch.setenv("HOME", str(home))
        monkeypatch.setenv("XDG_CONFIG_HOME", str(home))
        monkeypatch.setenv("GIT_CONFIG_NOSYSTEM", "1")
        yield


@pytest.fixture
def ours(trueup: Trueup) -> Trueup:
    return trueup


@pytest.fixture
def theirs(ours: Trueup, tmp_path: Path) -> Trueup:
    return clone(ours, tmp_path / "other" / "theatre")
