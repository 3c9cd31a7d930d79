"""The verbs that read, and what a terminal would be sent of what they print."""

import contextlib
import io
import json
import os
import subprocess
from collections.abc import Iterator, Sequence
from pathlib import Path

import tomlkit

from tests.escapes.hostile import TEXTS, acting, leaves, replaced
from tests.warm import Answer
from trueup.cli.main import main

FREE = {"why", "says", "fabric", "wearer", "words", "source", "taken_by"}
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
    ("body",),
    ("body", "marta"),
    ("history", "--body", "marta"),
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

ALL = "".join(TEXTS[name] for name in ("colour", "c1", "overwrite", "lines", "bidi", "unseen"))


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
