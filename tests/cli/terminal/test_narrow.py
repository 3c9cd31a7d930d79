"""Every verb on a narrow terminal: no line runs over, no word is broken, nothing is left out."""

import re
import shutil
from collections import Counter
from pathlib import Path

import pytest

from tests.cli.conftest import Trueup
from tests.cli.terminal.answers import Asked, made, questions
from tests.cli.terminal.real import Terminal
from tests.sharing.copied import copied
from trueup.cli.verbs import VERBS

APART = {"look", "demo"}
"""The live page prints an address and stays; the demo is told by other verbs, and tested below."""

AS_THEY_STAND = {"report", "fit-from"}
"""These print the text of a file, Markdown and TOML, in which no line may be wrapped."""

# In a block the first cell stands without its head, for it is the name of the row.
FIRST_HEADS = {
    *("area", "corrected", "at", "edge", "garment", "line", "look", "measure", "measurement"),
    *("name", "pattern", "piece", "seam", "size", "step", "what", "when"),
}

GUIDES = re.compile(r"[│├└─|`\- ]*")
WORD = re.compile(r"\S+")
ID = re.compile(r"\b[0-9a-f]{8,10}\b")  # that of a commit differs each time
TO_TYPE = re.compile(r"`[^`]*`")
PARTED = re.compile(r"[0-9]\n *(mm|cm|in)\b")


@pytest.fixture(scope="module")
def wardrobe(tmp_path_factory: pytest.TempPathFactory) -> Trueup:
    return made(tmp_path_factory.mktemp("narrow") / "wardrobe")


@pytest.fixture(scope="module")
def asked(wardrobe: Trueup) -> dict[str, Asked]:
    return questions(wardrobe)


def answer(wardrobe: Trueup, question: Asked) -> str:
    """Return what a verb answers in a copy of the wardrobe, which lies where it always does."""
    copy = fresh(wardrobe, question)
    told = copy(*question.words)
    assert told.code == question.code, told.err
    return str(told.out)


def fresh(wardrobe: Trueup, question: Asked) -> Trueup:
    place = wardrobe.folder.parent / "copy"
    shutil.rmtree(place, ignore_errors=True)
    copied(wardrobe.folder, place)
    for name in question.writes:
        written = wardrobe.folder.parent / name
        shutil.rmtree(written, ignore_errors=True)
        written.unlink(missing_ok=True)
    return Trueup(place)


def too_wide(text: str, width: int) -> list[str]:
    """Return the lines that run over, except what cannot be broken: a name, or what is typed."""
    return [
        line
        for line in text.splitlines()
        if len(line) > width
        and not line.lstrip().startswith("trueup ")
        and len(WORD.findall(TO_TYPE.sub("typed", GUIDES.sub("", line, count=1)))) > 1
    ]


def words(text: str) -> Counter[str]:
    return Counter(word.rstrip(":") for word in WORD.findall(ID.sub("id", text)))


def test_every_verb_is_asked(asked: dict[str, Asked]) -> None:
    assert {*asked, *APART} == {"", *VERBS}


@pytest.mark.parametrize("verb", ["", *(verb for verb in VERBS if verb not in APART)])
def test_an_answer_fits_and_is_whole(
    wardrobe: Trueup, asked: dict[str, Asked], verb: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = answer(wardrobe, asked[verb])
    for width in (40, 60, 80):
        monkeypatch.setenv("COLUMNS", str(width))
        narrow = answer(wardrobe, asked[verb])
        if verb not in AS_THEY_STAND:
            assert too_wide(narrow, width) == []
            assert PARTED.findall(narrow) == []
        lost = words(whole) - words(narrow)
        assert set(lost) <= FIRST_HEADS, f"lost at {width}"
        assert set(words(narrow)) <= set(words(whole)), f"broken at {width}"


@pytest.mark.parametrize("verb", ["", *VERBS])
@pytest.mark.parametrize("width", [40, 80])
def test_a_help_page_fits(verb: str, width: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "200")
    named = set(re.findall(r"--[a-z-]+|[a-z]+(?:-[a-z]+)+", help_of(verb)))
    monkeypatch.setenv("COLUMNS", str(width))
    narrow = help_of(verb)
    assert too_wide(narrow, width) == []
    assert {name for name in named if name not in narrow} == set()


def help_of(verb: str) -> str:
    return str(Trueup(Path())(*filter(None, (verb, "--help"))).out)


@pytest.mark.parametrize(
    "verb", ["", "tree", "walk", "garments", "conflicts", "correct", "compare"]
)
@pytest.mark.parametrize("width", [40, 80])
def test_on_a_real_terminal_with_real_signs(
    wardrobe: Trueup,
    asked: dict[str, Asked],
    verb: str,
    width: int,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    question = asked[verb]
    folder = fresh(wardrobe, question).folder
    shown = Terminal(width).shows("-C", str(folder), *question.words)
    assert too_wide(shown, width) == []
    assert " -> " not in shown
    assert not re.search(r"(?<!\S)-[0-9.]+ (mm|cm|in)\b", shown)
    typed = [line for line in shown.splitlines() if line.lstrip().startswith("trueup ")]
    assert not any(sign in line for line in typed for sign in "→−")
    monkeypatch.setenv("COLUMNS", str(width))
    plain = answer(wardrobe, question)
    for real, typed_as in {"→": "->", "−": "-", "├─": "|-", "└─": "`-", "│": "|"}.items():
        shown = shown.replace(real, typed_as)
    assert words(shown) == words(plain)


def test_the_demo_fits_a_narrow_terminal(tmp_path: Path) -> None:
    assert too_wide(Terminal(60).shows("demo", str(tmp_path / "store")), 60) == []


def test_a_terminal_without_such_signs_gets_those_it_has(
    wardrobe: Trueup, asked: dict[str, Asked]
) -> None:
    folder = fresh(wardrobe, asked["compare"]).folder
    ascii_only = Terminal(surroundings={"PYTHONIOENCODING": "ascii"})
    shown = ascii_only.shows("-C", str(folder), *asked["compare"].words)
    assert " -> " in shown
    assert shown.isascii()


def test_an_error_is_wrapped_between_words(wardrobe: Trueup) -> None:
    shown = Terminal(40).shows_of_stderr("-C", str(wardrobe.folder), "measure", "market-blouse")
    assert too_wide(shown, 40) == []
    assert len(shown.splitlines()) > 2
    assert "marta-winter-block-with-long-sleeves" in shown
