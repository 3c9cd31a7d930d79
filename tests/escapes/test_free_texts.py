"""Whatever a maker or a stranger wrote where they may write freely, a terminal only shows it."""

import contextlib
import os
import pty
import re
from pathlib import Path

import pytest

from tests.escapes.hostile import TEXTS, acting
from tests.escapes.showing import ALL, all_shown, commit_all, shown, with_free_texts
from tests.sharing.forked import start


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_what_a_maker_wrote_freely_is_shown_and_not_obeyed(folder: Path, text: str) -> None:
    assert with_free_texts(folder, text) >= 8
    first, *_ = text.split("\n")
    commit_all(folder, f"{text}\n\n{text}\n\nTrueup-Why: {text}", f"{first} <x>")
    all_shown(folder)


def test_a_text_asked_for_is_kept_and_shown(folder: Path) -> None:
    at = ("-C", str(folder))
    for number, text in enumerate(TEXTS.values()):
        why = ("--why", text)
        step = ("seam-allowance", "--piece", "back", f"--by={number + 1}mm")
        shown(*at, "style", "vest", *step, *why)
        words = ("--words", text, "--wearer", text)
        shown(*at, "note", "linen", "other", "--place", "front.armhole", *words)
        shown(*at, "cut", "vest", "--name", f"g{number}", "--fabric", text, "--wearer", text)
        shown(*at, "garment", f"g{number}", "--status", "sewn", *why)
        shown(*at, "garments", "--wearer", text)
        shown(*at, "undo")
    all_shown(folder)


def test_a_terminal_gets_colours_and_nothing_else(folder: Path) -> None:
    """What rich sends itself is colour; all else would come from the wardrobe."""
    with_free_texts(folder, ALL)
    commit_all(folder, ALL.replace("\0", ""))
    for words in ((), ("history",), ("explain", "blouse"), ("conflicts",), ("garment", "linen")):
        sent = _on_a_terminal("-C", str(folder), *words)
        plain = re.sub(r"\x1b\[[0-9;]*m", "", sent.replace("\r\n", "\n"))
        assert acting(plain) == [], (words, sent)


def _on_a_terminal(*words: str) -> str:
    reader, writer = pty.openpty()
    surroundings = {**os.environ, "TERM": "xterm-256color"}
    process = start(
        "trueup.cli", *words, stdin=writer, stdout=writer, stderr=writer, env=surroundings
    )
    os.close(writer)
    sent = b""
    with contextlib.suppress(OSError):
        while chunk := os.read(reader, 65536):
            sent += chunk
    os.close(reader)
    process.wait(60)
    return sent.decode(errors="surrogateescape")
