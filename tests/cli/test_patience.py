"""How far a wait has come is told on a terminal, and nowhere else."""

import io
from pathlib import Path

import pytest

from trueup.cli.patience import patience
from trueup.lineage.wardrobe import Wardrobe


class Screen(io.StringIO):
    """What a terminal was sent."""

    def __init__(self, *, is_terminal: bool) -> None:
        super().__init__()
        self._is_terminal = is_terminal

    def isatty(self) -> bool:
        return self._is_terminal


@pytest.fixture
def wardrobe(tmp_path: Path) -> Wardrobe:
    return Wardrobe.start(tmp_path / "village", "Village", "cm")


def told(monkeypatch: pytest.MonkeyPatch, wardrobe: Wardrobe, screen: Screen, *far: int) -> str:
    monkeypatch.setattr("sys.stderr", screen)
    monkeypatch.setenv("TERM", "xterm")
    with wardrobe, patience(wardrobe):
        if wardrobe.progress is not None:
            wardrobe.progress(*far)
    assert wardrobe.progress is None
    return screen.getvalue()


def test_a_terminal_is_told_how_many_patterns_are_done(
    monkeypatch: pytest.MonkeyPatch, wardrobe: Wardrobe
):
    assert "3 of 7 patterns" in told(monkeypatch, wardrobe, Screen(is_terminal=True), 3, 7)


def test_one_pattern_is_not_counted(monkeypatch: pytest.MonkeyPatch, wardrobe: Wardrobe):
    sent = told(monkeypatch, wardrobe, Screen(is_terminal=True), 0, 1)
    assert "Working it out" in sent
    assert "patterns" not in sent


def test_what_is_no_terminal_is_told_nothing(monkeypatch: pytest.MonkeyPatch, wardrobe: Wardrobe):
    assert told(monkeypatch, wardrobe, Screen(is_terminal=False), 3, 7) == ""
