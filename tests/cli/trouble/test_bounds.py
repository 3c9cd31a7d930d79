"""Wardrobes from strangers that stand for more than any memory or patience holds."""

import hashlib
import os
import subprocess
from pathlib import Path
from typing import Any

import pytest

from tests import bounded
from tests.cli.conftest import Trueup


def git(folder: Path, *words: str, feed: bytes = b"") -> str:
    done = subprocess.run(["git", *words], cwd=folder, input=feed, capture_output=True, check=True)
    return done.stdout.decode().strip()


def tree(folder: Path, *entries: tuple[str, str, str, str]) -> str:
    listed = "".join(f"{mode} {kind} {found}\t{name}\n" for mode, kind, found, name in entries)
    return git(folder, "mktree", feed=listed.encode())


def a_billion_files(folder: Path) -> str:
    """Return a tree of nine floors, each ten times the one below it: a few hundred bytes."""
    blob = git(folder, "hash-object", "-w", "--stdin", feed=b"x")
    found = tree(folder, *(("100644", "blob", blob, f"f{n}.jpg") for n in range(10)))
    for _ in range(8):
        found = tree(folder, *(("040000", "tree", found, f"d{n}") for n in range(10)))
    return found


def a_deep_tree(folder: Path) -> str:
    """Return a tree three thousand floors deep, all of it written by one git."""
    blob = git(folder, "hash-object", "-w", "--stdin", feed=b"x")
    found = tree(folder, ("100644", "blob", blob, "f.jpg"))
    floors = []
    for _ in range(3_000):
        floors.append(f"040000 tree {found}\tddd\n\n")
        content = b"40000 ddd\0" + bytes.fromhex(found)
        found = hashlib.sha1(b"tree %d\0" % len(content) + content).hexdigest()
    *_, last = git(folder, "mktree", "--batch", feed="".join(floors).encode()).split()
    assert last == found
    return found


def long_names(folder: Path) -> str:
    blob = git(folder, "hash-object", "-w", "--stdin", feed=b"x")
    return tree(folder, *(("100644", "blob", blob, f"{'p' * 100_000}{n}.jpg") for n in range(9)))


def record(folder: Path, name: str, content: str) -> None:
    """Commit the latest version with one folder more, without a working file of it."""
    kept = [line for line in git(folder, "ls-tree", "HEAD").splitlines() if f"\t{name}" not in line]
    whole = "\n".join([*kept, f"040000 tree {content}\t{name}", ""])
    root = git(folder, "mktree", feed=whole.encode())
    made = git(folder, "-c", "user.name=m", "-c", "user.email=m@x", "commit-tree", root,
               "-p", "HEAD", "-m", "Put in")  # fmt: skip
    git(folder, "update-ref", "refs/heads/main", made)


def one_sentence(done: bounded.Done) -> str:
    assert done.returncode in (2, 3), done.stderr
    assert done.stdout == ""
    assert done.stderr.count("\n") == 1
    assert "memory" not in done.stderr
    assert len(done.stderr) < 1_000
    return done.stderr


@pytest.mark.parametrize("place", ["photos", "elsewhere"])
@pytest.mark.parametrize("words", [(), ("tree",), ("undo",)])
def test_a_version_of_a_billion_files_is_refused(
    trueup: Trueup, place: str, words: tuple[str, ...]
) -> None:
    record(trueup.folder, place, a_billion_files(trueup.folder))
    told = one_sentence(bounded.trueup(trueup.folder, *words))
    assert "it holds more than 250,000 files" in told


def test_a_version_of_a_billion_files_hides_no_later_one(trueup: Trueup) -> None:
    folder, whole = trueup.folder, git(trueup.folder, "rev-parse", "HEAD^{tree}")
    record(folder, "patterns", a_billion_files(folder))
    after = git(folder, "-c", "user.name=m", "-c", "user.email=m@x", "commit-tree", whole,
                "-p", "HEAD", "-m", "Take out")  # fmt: skip
    git(folder, "update-ref", "refs/heads/main", after)
    for words in (("tree",), ("history",), ("history", "blouse"), ("explain", "blouse")):
        done = bounded.trueup(folder, *words)
        assert (done.returncode, done.stderr) == (0, ""), words
    assert "250,000 files" in one_sentence(bounded.trueup(folder, "undo"))


@pytest.mark.parametrize("made", [a_deep_tree, long_names])
def test_names_longer_than_any_system_holds_are_refused(trueup: Trueup, made: Any) -> None:
    record(trueup.folder, "photos", made(trueup.folder))
    assert "4,096 bytes" in one_sentence(bounded.trueup(trueup.folder, "tree"))


def test_a_pattern_of_too_many_steps_is_refused(trueup: Trueup) -> None:
    steps = ",".join(f"{{id='{n}',role='style',kind='k'}}" for n in range(24_000))
    text = f"format = 1\nname = 'many'\nparents = [{{name='village'}}]\nsteps = [{steps}]\n"
    (trueup.folder / "patterns" / "many.toml").write_text(text)
    assert "more than 300 steps" in bounded.trueup(trueup.folder, "check", "many").stderr


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="a system without pipes that have a name")
@pytest.mark.parametrize(
    "words",
    [
        ("correct", "village", "--from"),
        ("alter", "tea", "--from"),
        ("trace", "{}", "new"),
        ("note", "tea", "armhole-binds", "--place", "front.armhole", "--photo"),
    ],
)
@pytest.mark.parametrize("what", ["pipe", "zero", "folder", "endless", "nothing"])
def test_a_file_that_is_none_is_refused(
    trueup: Trueup, tmp_path: Path, words: tuple[str, ...], what: str
) -> None:
    trueup.made("cut", "blouse", "--name", "tea")
    os.mkfifo(tmp_path / "pipe")
    place = {
        "pipe": tmp_path / "pipe",
        "zero": Path("/dev/zero"),
        "folder": tmp_path,
        "endless": Path("/proc/self/pagemap"),
        "nothing": tmp_path / "nothing",
    }[what]
    if what == "endless" and not place.exists():
        pytest.skip("a system that tells nothing of its pages")
    asked = [word.format(place) for word in words]
    asked += [] if str(place) in asked else [str(place)]
    assert str(place) in one_sentence(bounded.trueup(trueup.folder, *asked))


@pytest.mark.parametrize(
    "word", ["9" * 100_000, "1 from " * 15_000, "\udcff" * 50_000, "\x1b" * 100_000]
)
@pytest.mark.parametrize("words", [(), ("tree",), ("derive",), ("export", "own"), ("mend",)])
def test_whatever_is_typed_is_answered_in_a_sentence_one_can_read(
    trueup: Trueup, words: tuple[str, ...], word: str
) -> None:
    answer = trueup(*words, word)
    assert answer.code == 2
    assert answer.err.count("\n") == 1
    assert len(answer.err) < 5_000
