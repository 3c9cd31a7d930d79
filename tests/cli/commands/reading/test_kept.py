"""What is shown is what lies there now, whatever was kept of the wardrobe before.

Every command is judged by itself where nothing is kept.
"""

import hashlib
import shutil
import subprocess
import zlib
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.cli.conftest import Answer, Trueup
from tests.cli.restoring.story import git

COMMANDS = (
    (),
    ("--json",),
    ("tree",),
    ("tree", "--json"),
    ("check", "--all", "--json"),
    ("conflicts", "--all", "--json"),
    ("history", "blouse"),
    ("garments",),
    ("measure", "own"),
    ("tree", "--as-of", "HEAD~1"),
)
OWN, BLOUSE = "patterns/own.toml", "patterns/blouse.toml"


@pytest.fixture
def both(trueup: Trueup, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[], None]:
    """Ask everything where it was kept, again, and where nothing is; the answers are one."""
    kept, places = tmp_path / "kept", iter(range(1000))

    def answers(cache: Path) -> list[Answer]:
        monkeypatch.setenv("TRUEUP_CACHE", str(cache))
        return [trueup(*words) for words in COMMANDS]

    def ask() -> None:
        new = tmp_path / f"new-{next(places)}"
        for found in (kept, kept):
            for words, warm, cold in zip(COMMANDS, answers(found), answers(new), strict=True):
                assert warm == cold, words
        monkeypatch.setenv("TRUEUP_CACHE", str(kept))

    return ask


def _changed(folder: Path, path: str, old: str, new: str) -> None:
    text = (folder / path).read_text()
    assert old in text
    (folder / path).write_text(text.replace(old, new))


def _copied(folder: Path) -> None:
    text = (folder / OWN).read_text().replace('name = "own"', 'name = "twin"')
    (folder / "patterns/twin.toml").write_text(text)


def turns(trueup: Trueup) -> Iterator[None]:
    """Do one thing after the other to a wardrobe: by its commands, by hand and by git."""
    folder = trueup.folder
    yield
    trueup.made("style", "blouse", "lengthen", "--by", "30mm")
    yield
    trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")
    yield
    _changed(folder, OWN, '"4mm"', '"6mm"')
    yield
    git(folder, "commit", "-qam", "Scoop it further")
    yield
    git(folder, "reset", "-q", "--hard", "HEAD~2")
    yield
    _copied(folder)
    yield
    trueup.made("derive", "third", "--from", "own")
    yield
    (folder / BLOUSE).unlink()
    yield
    trueup("keep")
    yield
    trueup("undo")
    yield
    git(folder, "checkout", "-q", "-b", "other", "HEAD~2")
    yield
    _changed(folder, "wardrobe.toml", '"cm"', '"in"')
    yield
    (folder / OWN).write_text("[")
    yield
    git(folder, "checkout", "-q", "--", ".")
    git(folder, "checkout", "-q", "-")
    yield


def test_it_is_what_lies_there_after_each_of_many_turns(
    trueup: Trueup, both: Callable[[], None]
) -> None:
    for _ in turns(trueup):
        both()


def _forged(folder: Path, tree: str, content: bytes) -> Path:
    """Let git say other content of a tree than its id says; return the file it lies in."""
    place = folder / ".git" / "objects" / tree[:2] / tree[2:]
    place.chmod(0o644)
    place.write_bytes(zlib.compress(b"tree %d\0" % len(content) + content))
    return place


def test_a_list_of_files_that_was_forged_is_not_kept_for_the_true_one(
    trueup: Trueup, both: Callable[[], None], tmp_path: Path
) -> None:
    trueup.made("style", "blouse", "lengthen", "--by", "30mm")  # whose trees lie in own files
    tree = git(trueup.folder, "rev-parse", "HEAD:patterns")
    earlier = git(trueup.folder, "rev-parse", "HEAD~1:patterns")
    place = trueup.folder / ".git" / "objects" / tree[:2] / tree[2:]
    if not place.exists():
        pytest.fail("the tree of a step does not lie in a file of its own")
    true = tmp_path / "true"
    shutil.copy(place, true)
    other = git_bytes(trueup.folder, earlier)
    assert hashlib.sha1(b"tree %d\0" % len(other) + other).hexdigest() == earlier
    _forged(trueup.folder, tree, other)
    both()
    shutil.copy(true, place)
    both()


def git_bytes(folder: Path, tree: str) -> bytes:
    """Return a tree as git stores it."""
    done = subprocess.run(
        ["git", "cat-file", "tree", tree], cwd=folder, check=True, capture_output=True
    )
    return done.stdout
