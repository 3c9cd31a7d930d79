"""Which of the wardrobe's own files lie on the disk, and which look as when they were read."""

import errno
import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from trueup.lineage.limits import LONGEST_PATH
from trueup.lineage.store.files.paths import FOLDERS, SETTINGS, is_nobodys

Look = tuple[int, int, int, int]
"""Inode, size and the times of a file: what git, too, knows a changed one by."""

Looks = dict[str, tuple[Look, str]]
"""How files looked, by their paths, when they were read last, and the ids of what they held."""


def look_of(status: os.stat_result) -> Look:
    """Return how a file looks."""
    return status.st_ino, status.st_size, status.st_mtime_ns, status.st_ctime_ns


def lying(folder: Path, looks: Looks, like: str) -> dict[str, str | None]:
    """Return the path of every file on disk that belongs to the wardrobe.

    With it goes the id of its content, in the kind of hash that `like` is written in, where it
    looks as when it was read; else None. What stands in the place of a folder, may not be looked
    into, or lies deeper than a path can say, holds none.
    """
    found: dict[str, str | None] = {}
    if os.path.lexists(folder / SETTINGS):
        found[SETTINGS] = None
    waiting = [name for name in FOLDERS if _is_folder(folder / name)]
    while waiting:
        inside = waiting.pop()
        if len(inside.encode(errors="surrogateescape")) > LONGEST_PATH:
            continue
        with _entries(folder / inside) as entries:
            for entry in entries:
                name = entry.name
                if is_nobodys(name):
                    continue
                path = f"{inside}/{name}"
                look, known = looks.get(path, _NEVER_READ)
                if known and _looks_so(entry, look) and len(known) == len(like):
                    found[path] = known
                elif entry.is_dir(follow_symlinks=False):
                    waiting.append(path)
                else:
                    found[path] = None
    return found


_NEVER_READ: tuple[Look, str] = (0, 0, 0, 0), ""


def _looks_so(entry: os.DirEntry[str], look: Look) -> bool:
    """Return whether a file looks so; what is none does not."""
    try:
        now = entry.stat(follow_symlinks=False)
    except OSError:
        return False
    return look == look_of(now) and stat.S_ISREG(now.st_mode)


def _is_folder(place: Path) -> bool:
    return os.path.lexists(place) and stat.S_ISDIR(os.lstat(place).st_mode)


@contextmanager
def _entries(folder: Path) -> Iterator[list[os.DirEntry[str]]]:
    """Hand over what is in a folder, to be looked at until the block ends."""
    # Looked at through the open folder: a system walks down the whole path to each file else.
    opened = None
    try:
        if os.scandir in os.supports_fd:
            opened = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        with os.scandir(folder if opened is None else opened) as within:
            entries = list(within)
    except PermissionError:
        entries = []
    except OSError as error:
        if error.errno != errno.ENAMETOOLONG:
            raise
        entries = []
    try:
        yield entries
    finally:
        if opened is not None:
            os.close(opened)
