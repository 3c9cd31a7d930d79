"""What lies at a path of the working folder, seen without following anything."""

import os
import stat
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from trueup.lineage.limits import LARGEST_FILE
from trueup.lineage.store.files.paths import FOLDERS, SETTINGS, is_owned
from trueup.lineage.store.files.working_files import blob_id

_PLAIN = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)


@dataclass(frozen=True)
class Lying:
    """A plain file with its content; or what is in the way of one; or nothing at all.

    `obstacle` is the path of a link, a folder or the like. `is_closed` says that the file may not
    be read; one that is too large to be ours has no content either.
    """

    content: bytes | None = None
    obstacle: str | None = None
    is_closed: bool = False
    is_too_large: bool = False

    @property
    def is_nothing(self) -> bool:
        """Return whether no file is there, and nothing in its way."""
        return self == Lying()


def lying_at(folder: Path, path: str) -> Lying:
    """Return what lies at a path."""
    parts = path.split("/")
    try:
        for depth in range(1, len(parts)):
            above = "/".join(parts[:depth])
            if not stat.S_ISDIR(os.lstat(folder / above).st_mode):
                return Lying(obstacle=above)
        if not stat.S_ISREG(os.lstat(folder / path).st_mode):
            return Lying(obstacle=path)
        with open(os.open(folder / path, _PLAIN), "rb") as file:
            content = file.read(LARGEST_FILE + 1)
    except (FileNotFoundError, NotADirectoryError):
        return Lying()
    except PermissionError:
        return Lying(is_closed=True)
    return Lying(content) if len(content) <= LARGEST_FILE else Lying(is_too_large=True)


def owned_in(folder: Path) -> Iterator[str]:
    """Yield the path of every one of the wardrobe's files that lies on the disk, links included."""
    waiting = [*FOLDERS]
    if os.path.lexists(folder / SETTINGS):
        yield SETTINGS
    while waiting:
        above = waiting.pop()
        try:
            if not stat.S_ISDIR(os.lstat(folder / above).st_mode):
                continue
            entries = sorted(os.scandir(folder / above), key=lambda entry: entry.name)
        except OSError:
            continue
        for entry in entries:
            path = f"{above}/{entry.name}"
            if is_owned(path):
                if entry.is_dir(follow_symlinks=False):
                    waiting.append(path)
                else:
                    yield path


def lies_as(folder: Path, listing: Mapping[str, str]) -> bool:
    """Return whether the working files are exactly those of a version."""
    recorded = {path: blob for path, blob in listing.items() if is_owned(path)}
    if set(owned_in(folder)) != set(recorded):
        return False
    return all(
        (found := lying_at(folder, path).content) is not None and blob_id(found, blob) == blob
        for path, blob in recorded.items()
    )
