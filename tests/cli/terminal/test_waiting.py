"""How far a wait has come: on a real terminal, with evaluation slowed down, and nowhere else."""

import re
from pathlib import Path

import pytest

from tests.cli.conftest import Trueup
from tests.cli.terminal.real import Terminal, left_on_screen

SLOW = """
import sys, time
from trueup.lineage.evaluation import chain
worked_out = chain.worked_out
def slowly(*given):
    time.sleep(0.35)
    return worked_out(*given)
chain.worked_out = slowly
from trueup.cli.main import main
sys.exit(main(sys.argv[1:]))
"""
SCOOP = ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "5mm", "--preview")
SIZES = "size,bust,waist,back-length,sleeve-length\n" + "".join(
    f"{bust},{bust}cm,{bust - 20}cm,38cm,54cm\n" for bust in range(84, 104, 4)
)
FAR = re.compile(r"(\d+) of (\d+) (\w+)")


def slow_terminal(cache: Path) -> Terminal:
    """Return a terminal on which nothing is known yet, so that all is worked out."""
    return Terminal(surroundings={"TRUEUP_CACHE": str(cache)}, script=SLOW)


def sized(trueup: Trueup) -> Trueup:
    table = trueup.folder.parent / "sizes.csv"
    table.write_text(SIZES, encoding="utf-8")
    trueup.made("sizes", "own", "--table", str(table))
    return trueup


@pytest.mark.parametrize(
    ("words", "things"),
    [
        (SCOOP, "patterns"),
        (("check", "--all"), "patterns"),
        (("shared", "--all"), "patterns"),
        (("book", "BOOK.html"), "patterns pages"),
        (("sizes", "blouse", "--table", "sizes.csv", "--preview"), "patterns"),
        (("sheet", "own", "OWN.pdf", "--sizes"), "patterns"),
        (("compare", "own", "--sizes"), "patterns"),
        (("history", "--effects"), "patterns"),
    ],
)
def test_it_is_counted_and_gone_when_it_is_done(
    trueup: Trueup, tmp_path: Path, words: tuple[str, ...], things: str
) -> None:
    sized(trueup)
    asked = [
        str(tmp_path / word) if word[-4:] in ("html", ".pdf", ".csv") else word for word in words
    ]
    sent = slow_terminal(tmp_path / "cache").sent_meanwhile("-C", str(trueup.folder), *asked)
    told = FAR.findall(sent)
    assert told, sent
    assert {thing for *_, thing in told} == {*things.split()}
    assert all(int(done) <= int(of) for done, of, _ in told)
    assert left_on_screen(sent) == ""
    assert sent.count("\x1b[?25l") == sent.count("\x1b[?25h")  # the cursor is there again


@pytest.mark.parametrize("words", [SCOOP, ("check", "--all"), ("conflicts",)])
def test_with_json_nothing_is_told(trueup: Trueup, tmp_path: Path, words: tuple[str, ...]) -> None:
    terminal = slow_terminal(tmp_path / "cache")
    assert terminal.sent_meanwhile("-C", str(trueup.folder), *words, "--json") == ""


def test_of_what_is_done_at_once_nothing_is_told(trueup: Trueup) -> None:
    trueup.made(*SCOOP)
    assert Terminal().sent_meanwhile("-C", str(trueup.folder), *SCOOP) == ""


def test_what_refuses_half_way_leaves_nothing_but_its_sentence(
    trueup: Trueup, tmp_path: Path
) -> None:
    kept = tmp_path / "kept.html"
    kept.write_text("mine", encoding="utf-8")
    terminal = slow_terminal(tmp_path / "cache")
    sent = terminal.sent_meanwhile("-C", str(trueup.folder), "book", str(kept))
    assert FAR.search(sent)
    assert left_on_screen(sent).startswith(str(kept))
