"""Pages at any width: nothing is cut off, and colour says nothing alone."""

import re
from typing import Any

import pytest

SCOOP = ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm", "--preview")
READ = [SCOOP, ("conflicts",), ("walk", "village"), ("origin", "blouse"), ("history", "own"),
        ("measure", "village"), ("tree",), ("check", "village"), ()]  # fmt: skip


def letters(text: str) -> str:
    return re.sub(r"\s", "", text)


@pytest.mark.parametrize("words", READ)
@pytest.mark.parametrize("width", ["50", "80"])
def test_a_narrow_page_wraps_and_never_cuts(
    corrected: Any, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...], width: str
) -> None:
    corrected.made("undo")
    whole = corrected(*words).out
    monkeypatch.setenv("COLUMNS", width)
    narrow = corrected(*words).out
    assert "…" not in narrow
    heads = ("edge", "measure", "pattern", "what")  # the first column needs none in a list
    for word in set(re.findall(r"\S+", whole)) - set(heads):
        assert letters(word) in letters(narrow)
    for line in narrow.splitlines():
        assert len(line) <= int(width) or "trueup" in line or "|" in line or "`-" in line


def test_a_command_is_on_one_line_however_narrow(
    corrected: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "30")
    lines = corrected("conflicts").out.splitlines()
    commands = [line for line in lines if line.strip().startswith("trueup")]
    assert commands
    assert all(" decide " in line for line in commands)


def test_a_pipe_is_not_wrapped_at_all(trueup: Any) -> None:
    out = trueup.made(*SCOOP).out
    assert "the ease is 1.1 cm" in next(line for line in out.splitlines() if "the ease is" in line)
    assert "\x1b" not in out


def test_colour_is_left_out_where_nobody_wants_it(
    trueup: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("FORCE_COLOR", "1")
    coloured = trueup.made(*SCOOP).out
    assert "\x1b[32m+ carried" in coloured
    monkeypatch.setenv("NO_COLOR", "1")
    assert "\x1b[32m" not in trueup.made(*SCOOP).out
