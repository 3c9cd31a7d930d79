"""Whatever a maker or a stranger wrote, a terminal only shows it."""

import contextlib
import io
import json
import os
import pty
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import pytest
import tomlkit

from tests.checkout import IMPORTS
from tests.escapes.hostile import TEXTS, acting, leaves, replaced
from tests.small_wardrobe import BODY, build
from tests.warm import ROOT, Answer, Warm, environment
from trueup.cli.main import main

FREE = {"why", "says", "fabric", "wearer", "words", "source"}
"""Fields in which a maker may write whatever they like, and a stranger in what they hold."""

READING: Sequence[tuple[str, ...]] = (
    (),
    ("tree",),
    ("history",),
    ("history", "blouse"),
    ("history", "linen"),
    ("history", "--effects"),
    ("explain", "blouse"),
    ("explain", "blouse", "--markdown"),
    ("report",),
    ("conflicts",),
    ("conflicts", "--all"),
    ("garments",),
    ("garment", "linen"),
    ("alter", "linen"),
    ("shared", "--all", "--single"),
    ("diagnose", "linen"),
    ("origin", "blouse"),
    ("check", "blouse"),
    ("compare", "village"),
    ("mend", "--preview"),
)
PRINTS_NO_JSON = ("--markdown", "mend")


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("built")
    with Warm(place / "home") as trueup:
        build(trueup, place / "wardrobe")
    return place / "wardrobe"


@pytest.fixture
def folder(built: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name, value in environment(tmp_path / "home").items():
        monkeypatch.setenv(name, value)
    for name in ("COLUMNS", "FORCE_COLOR", "NO_COLOR"):
        monkeypatch.delenv(name, raising=False)
    (tmp_path / "home").mkdir()
    return Path(shutil.copytree(built, tmp_path / "wardrobe"))


def run(*words: str) -> Answer:
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main(words)
    return Answer(words, code, out.getvalue(), err.getvalue())


def shown(*words: str) -> Answer:
    """Run a command, and see that a terminal would only show what it prints."""
    answer = run(*words)
    assert acting(answer.out) == [], answer
    assert acting(answer.err) == [], answer
    assert "Traceback" not in answer.err
    assert "did not expect" not in answer.err
    if "--json" in words and answer.out:
        json.loads(answer.out)
    return answer


def all_shown(folder: Path, readable: bool = True) -> None:
    """Run every verb that reads, for people and for programs."""
    for words in READING:
        for more in ((), ("--json",)):
            if more and any(word in words for word in PRINTS_NO_JSON):
                continue
            answer = shown("-C", str(folder), *words, *more)
            assert not readable or answer.code in (0, 1, 2), answer


def git(folder: Path, *words: str, feed: bytes = b"", **variables: str) -> str:
    done = subprocess.run(
        ["git", "-C", str(folder), *words],
        input=feed, capture_output=True, check=True, env={**os.environ, **variables},
    )  # fmt: skip
    return done.stdout.decode(errors="replace").strip()


def commit_all(folder: Path, message: str = "Look", author: str = "A <a@example.org>") -> None:
    """Record the working files with plain git, under any name and message."""
    git(folder, "add", "-A")
    tree, head = git(folder, "write-tree"), git(folder, "rev-parse", "HEAD")
    header = f"tree {tree}\nparent {head}\nauthor {author} 1700000000 +0000\n"
    text = f"{header}committer {author} 1700000000 +0000\n\n{message}\n"
    feed = text.encode(errors="surrogateescape")
    words = ("hash-object", "-t", "commit", "-w", "--stdin", "--literally")
    git(folder, "update-ref", "HEAD", git(folder, *words, feed=feed))


def records(folder: Path) -> Iterator[Path]:
    yield from sorted(folder.glob("*/*.toml"))
    yield folder / "wardrobe.toml"


def with_free_texts(folder: Path, text: str) -> int:
    """Write a text into every field a maker may fill freely; return how many there are."""
    count = 0
    for file in records(folder):
        document = tomlkit.parse(file.read_text()).unwrap()
        ways = [way for way in leaves(document) if not FREE.isdisjoint(way) or way == ("name",)]
        ways = [way for way in ways if way[-1] != "name" or file.name == "wardrobe.toml"]
        for way in ways:
            replaced(document, way, text)
        file.write_text(tomlkit.dumps(document))
        count += len(ways)
    return count


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


@pytest.mark.parametrize(
    "words",
    [
        ("{text}",),
        ("tree", "{text}"),
        ("tree", "--{text}"),
        ("tree", "--as-of", "{text}"),
        ("measure", "{text}"),
        ("measure", "blouse", "{text}"),
        ("history", "{text}"),
        ("history", "--since", "{text}"),
        ("explain", "{text}"),
        ("conflicts", "{text}"),
        ("decide", "{text}", "accept"),
        ("garment", "{text}"),
        ("note", "linen", "{text}", "--place", "{text}"),
        ("note", "linen", "other", "--place", "front.armhole", "--photo", "/{text}"),
        ("cut", "vest", "--name", "{text}"),
        ("cut", "vest", "--date", "{text}"),
        ("derive", "{text}", "--from", "village"),
        ("derive", "new", "--from", "{text}"),
        ("derive", "new", "--from", "village:{text}"),
        ("draft", "{text}", *BODY),
        ("draft", "new", *BODY, "--system", "{text}"),
        ("correct", "village", "{text}"),
        ("correct", "village", "scoop-armhole", "--piece", "front", "--by", "{text}"),
        ("correct", "village", "scoop-armhole", "--piece", "{text}", "--by", "2mm"),
        ("correct", "village", "--from", "/{text}"),
        ("trace", "/{text}.svg", "new"),
        ("export", "blouse", "/nosuch/{text}"),
        ("export", "blouse", "/nosuch/{text}.svg"),
        ("sheet", "blouse", "/nosuch/{text}.pdf"),
        ("tree", "--picture", "/nosuch/{text}.svg"),
        ("mend", "{text}"),
        ("resolve", "{text}", "--by", "{text}"),
        ("promote", "blouse", "{text}", "--to", "{text}"),
        ("shared", "linen", "{text}"),
        ("diagnose", "linen", "{text}"),
        ("start", "/nosuch/{text}"),
        ("-C", "/nosuch/{text}", "tree"),
    ],
    ids=" ".join,
)
def test_a_word_of_the_command_line_is_shown_and_not_obeyed(
    folder: Path, words: tuple[str, ...]
) -> None:
    """What follows a slash is a name of a file; a name too long for one is refused as well."""
    at = [] if words[0] in ("-C", "start") else ["-C", str(folder)]
    for text in TEXTS.values():
        shown(*at, *[word.replace("{text}", text.replace("/", "")) for word in words])


def _structural(folder: Path) -> list[tuple[str, tuple[Any, ...]]]:
    found = []
    for file in records(folder):
        document = tomlkit.parse(file.read_text()).unwrap()
        found += [(file.relative_to(folder).as_posix(), way) for way in leaves(document)]
    return found


ALL = "".join(TEXTS[name] for name in ("colour", "c1", "overwrite", "lines", "bidi", "unseen"))


def test_a_text_in_any_field_of_any_file_is_shown_and_not_obeyed(folder: Path) -> None:
    """Names, kinds, ids, lengths: most are refused, and the refusal names them."""
    ways = _structural(folder)
    assert len(ways) > 60
    for file, way in ways:
        place = folder / file
        before = place.read_text()
        document = tomlkit.parse(before).unwrap()
        replaced(document, way, ALL)
        place.write_text(tomlkit.dumps(document))
        for words in (("tree",), ("explain", "blouse"), ("garment", "linen"), ("conflicts",)):
            shown("-C", str(folder), *words)
        place.write_text(before)


def test_a_key_of_any_table_is_shown_and_not_obeyed(folder: Path) -> None:
    for file in records(folder):
        before = file.read_text()
        document = tomlkit.parse(before).unwrap()
        document[ALL] = {ALL: ALL}
        for table in document.get("steps", []):
            table[ALL] = ALL
        file.write_text(tomlkit.dumps(document))
        for words in (("tree",), ("explain", "blouse"), ("garment", "linen")):
            shown("-C", str(folder), *words)
        file.write_text(before)


@pytest.mark.parametrize(
    "name", ["blocks/{}.toml", "patterns/{}.toml", "garments/{}.toml", "photos/{}.jpg", "{}.toml"]
)
def test_a_name_of_a_file_is_shown_and_not_obeyed(folder: Path, name: str) -> None:
    for text in TEXTS.values():
        place = folder / name.format(text.replace("/", "")[:80])
        place.write_bytes((folder / "patterns" / "vest.toml").read_bytes())
        for words in (("tree",), ("garments",), ("style", "vest", "lengthen", "--by", "1mm")):
            shown("-C", str(folder), *words)
        place.unlink()


def test_bytes_that_are_no_text_in_a_name_are_shown(folder: Path) -> None:
    place = os.fsencode(folder) + b"/patterns/\xff\xfe\x9b31m.toml"
    with open(place, "wb") as file:
        file.write(b"format = 1\n")
    for words in READING:
        shown("-C", str(folder), *words)


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_the_folder_may_be_called_anything(folder: Path, text: str, tmp_path: Path) -> None:
    place = tmp_path / text.replace("/", "").replace("\0", "")[:60]
    folder.rename(place)
    all_shown(place)
    shown("-C", str(place), "correct", "village", "deepen-dart", "--dart", "front.bust", "--by=1mm")
    (place / "wardrobe.toml").write_text("format = 99\n")
    for words in READING:
        shown("-C", str(place), *words)


def test_names_of_versions_are_shown_and_not_obeyed(folder: Path) -> None:
    head = git(folder, "rev-parse", "HEAD")
    for name in ("\x1b[31mred", "a\u202eb", "x\x9b31m"):
        for kind in ("heads", "tags", "remotes/origin"):
            (folder / ".git" / "refs" / kind).mkdir(parents=True, exist_ok=True)
            (folder / ".git" / "refs" / kind / name).write_text(f"{head}\n")
        for words in READING:
            shown("-C", str(folder), *words)
        shown("-C", str(folder), "mend", name)
        shown("-C", str(folder), "tree", "--as-of", name)
        (folder / ".git" / "HEAD").write_text(f"ref: refs/heads/{name}\n")
        shown("-C", str(folder), "tree")
        shown("-C", str(folder), "style", "vest", "lengthen", "--by", "1mm")
        (folder / ".git" / "HEAD").write_text("ref: refs/heads/main\n")


@pytest.mark.parametrize("section", ["user", "core", "include", "extensions", "\x1b[31m"])
def test_settings_of_git_are_shown_and_not_obeyed(folder: Path, section: str) -> None:
    lines = f'[{section}]\n\tname = "{ALL}"\n\tbare = "{ALL}"\n\tpath = "{ALL}"\n'
    text = lines.replace("\n\u2028", "\\n\u2028").replace("\nRecorded", "\\nRecorded")
    with (folder / ".git" / "config").open("a", encoding="utf-8", newline="") as config:
        config.write(text)
    for words in (*READING[:4], ("style", "vest", "lengthen", "--by", "1mm")):
        shown("-C", str(folder), *words)


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_a_drawing_is_shown_and_not_obeyed(folder: Path, text: str, tmp_path: Path) -> None:
    """XML itself allows few of these characters; as references of numbers it is asked again."""
    for written in (_escaped(text), "".join(f"&#{ord(each)};" for each in text)):
        drawing = tmp_path / "drawn.svg"
        drawing.write_text(
            '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9">'
            f"<title>{written}</title><desc>{written}</desc>"
            f'<path id="{written}" d="M 0 0 L 9 9"/><path id="front.{written}" d="M 0 0 L 9 0"/>'
            f'<path id="front.side" transform="{written}" d="{written}"/></svg>',
            encoding="utf-8",
        )
        shown("-C", str(folder), "trace", str(drawing), "new")
        shown("-C", str(folder), "trace", str(drawing), "new", "--name", f"{text}=front.side")
        shown("-C", str(folder), "trace", str(drawing), "new", "--name", f"a={text}")


def _escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace('"', "&quot;")


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_a_fitting_is_shown_and_not_obeyed(folder: Path, text: str, tmp_path: Path) -> None:
    for document in (
        {"why": text, "corrections": [{"kind": "scoop-armhole", "piece": "front", "by": "2mm"}]},
        {"corrections": [{"kind": text}]},
        {"corrections": [{"kind": "scoop-armhole", "piece": text, "by": text}]},
        {"corrections": [{"kind": "scoop-armhole", text: text}]},
        {text: text},
    ):
        fitting = tmp_path / f"fitting{text.replace('/', '')[:60]}.toml"
        fitting.write_text(tomlkit.dumps(document), encoding="utf-8")
        shown("-C", str(folder), "correct", "village", "--from", str(fitting))
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
    command = [sys.executable, "-m", "trueup.cli", *words]
    surroundings = {**os.environ, "TERM": "xterm-256color", "PYTHONPATH": IMPORTS}
    process = subprocess.Popen(
        command, stdin=writer, stdout=writer, stderr=writer, env=surroundings, cwd=ROOT
    )
    os.close(writer)
    sent = b""
    with contextlib.suppress(OSError):
        while chunk := os.read(reader, 65536):
            sent += chunk
    os.close(reader)
    process.wait(60)
    return sent.decode(errors="surrogateescape")
