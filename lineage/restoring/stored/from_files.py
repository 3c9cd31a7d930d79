"""Find lost contents and lists of files in what lies in the working folder and in git's index."""

import os
import shutil
import stat
from collections.abc import Collection, Iterator
from pathlib import Path

from trueup.lineage.limits import LARGEST_FILE
from trueup.lineage.restoring.stored import loose, sealed
from trueup.lineage.restoring.stored.bench import Bench, bench
from trueup.lineage.restoring.stored.survey import loose_name
from trueup.lineage.store.files.paths import FIRST_FILES, FOLDERS, SETTINGS, is_owned

_PLAIN = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
_WAITING = ".git/trueup/waiting"

Found = Iterator[tuple[str, bytes]]


def wanted_files(folder: Path, wanted: Collection[str], letters: int) -> Found:
    """Yield the wanted contents that some working file holds."""
    for path in _files(folder, (*FOLDERS, _WAITING)):
        content = _content(folder / path)
        if content is not None and (object_id := _id(content, letters)) in wanted:
            yield object_id, loose.packed(b"blob", content)


def lists_in_index(folder: Path, letters: int) -> Found:
    """Yield the lists of files that git's index stands for."""
    index = folder / ".git" / "index"
    if _content(index) is None or sealed.seal_of(index, letters) is None:
        return
    # On a bench of its own: where git finds what it would write, it dates that anew.
    with bench(letters) as own:
        try:
            shutil.copyfile(index, own.git.git_dir / "index")
        except OSError:
            return
        yield from _written(own)


def lists_of_files(folder: Path, letters: int) -> Found:
    """Yield the lists of files that the working files stand for."""
    lines = []
    for path in _files(folder, FOLDERS):
        content = _content(folder / path) if path in FIRST_FILES or is_owned(path) else None
        if content is not None:
            lines.append(f"100644 {_id(content, letters)}\t{path}\0")
    feed = "".join(lines).encode(errors="surrogateescape")
    with bench(letters) as own:
        if feed and own.git.ask("update-index", "-z", "--index-info", feed=feed).status == 0:
            yield from _written(own)


def _written(own: Bench) -> Found:
    """Yield the lists of files of the index on a bench."""
    own.git.ask("write-tree", "--missing-ok")
    for file in own.made():
        yield loose_name(file), file.read_bytes()


def _files(folder: Path, inside: tuple[str, ...]) -> Iterator[str]:
    """Yield the plain files of the wardrobe; no link is followed."""
    yield from (SETTINGS, *FIRST_FILES)
    waiting = list(inside)
    while waiting:
        above = waiting.pop()
        try:
            if not stat.S_ISDIR(os.lstat(folder / above).st_mode):
                continue
            for entry in os.scandir(folder / above):
                if entry.is_dir(follow_symlinks=False):
                    waiting.append(f"{above}/{entry.name}")
                elif entry.is_file(follow_symlinks=False):
                    yield f"{above}/{entry.name}"
        except OSError:
            continue


def _content(path: Path) -> bytes | None:
    """Return what a plain file holds; None for anything else, and for one too large to be ours."""
    try:
        with open(os.open(path, _PLAIN), "rb") as file:
            status = os.fstat(file.fileno())
            if not stat.S_ISREG(status.st_mode) or status.st_size > LARGEST_FILE:
                return None
            return file.read(LARGEST_FILE)
    except OSError:
        return None


def _id(content: bytes, letters: int) -> str:
    return loose.digest(b"blob", content, letters)
