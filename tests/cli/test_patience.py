"""How far a wait has come is told on a terminal once it is long, and nowhere else."""

import io
from itertools import count
from pathlib import Path

import pytest

from trueup.cli.look.owning.desk import desk_of
from trueup.cli.patience import patience
from trueup.cli.terminal import waiting as telling
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


def clock(monkeypatch: pytest.MonkeyPatch, seconds: float) -> None:
    """Let so many seconds go by whenever it is looked at."""
    ticks = count(100)
    monkeypatch.setattr(telling, "monotonic", lambda: next(ticks) * seconds)


def told(
    monkeypatch: pytest.MonkeyPatch,
    wardrobe: Wardrobe,
    screen: Screen,
    *far: int,
    seconds: float = 2.0,
    silent: bool = False,
) -> str:
    monkeypatch.setattr("sys.stderr", screen)
    monkeypatch.setenv("TERM", "xterm")
    clock(monkeypatch, seconds)
    with wardrobe, patience(wardrobe, silent=silent):
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


def test_within_a_second_nothing_is_told(monkeypatch: pytest.MonkeyPatch, wardrobe: Wardrobe):
    assert told(monkeypatch, wardrobe, Screen(is_terminal=True), 3, 7, seconds=0.9) == ""


def test_whom_nothing_is_to_be_told(monkeypatch: pytest.MonkeyPatch, wardrobe: Wardrobe):
    assert told(monkeypatch, wardrobe, Screen(is_terminal=True), 3, 7, silent=True) == ""


def test_who_hears_of_it_already_goes_on_hearing(
    monkeypatch: pytest.MonkeyPatch, wardrobe: Wardrobe
):
    heard: list[tuple[int, int]] = []
    with wardrobe:
        wardrobe.progress = lambda done, of: heard.append((done, of))
        before = wardrobe.progress
        with patience(wardrobe):
            wardrobe.progress(1, 2)
        assert wardrobe.progress is before
    assert heard == [(1, 2)]


def test_the_live_page_tells_it_before_its_first_page(built: Path, monkeypatch: pytest.MonkeyPatch):
    screen = Screen(is_terminal=True)
    monkeypatch.setattr("sys.stderr", screen)
    monkeypatch.setenv("TERM", "xterm")
    clock(monkeypatch, 2.0)
    with desk_of(built, 5) as desk:
        assert desk.source.state.nodes
    assert "4 of 5 patterns" in screen.getvalue()
