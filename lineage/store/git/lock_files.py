"""The files by which gits keep each other out (`index.lock`, `HEAD.lock`, ...).

A git that is killed leaves its lock file behind, and nobody may delete another's. So ours are
known as ours: the index is only ever changed under a lock file with our mark in it, and a branch
only while a step is on its way, by gits that hold a descriptor of ours. Whoever has that
descriptor to itself knows that none of them lives, and may take away what they left.
"""

import os
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from trueup.lineage.errors import Locked

PATIENCE = 10.0
"""Seconds to wait for a git command of the maker's, or for another writer; a step takes less."""

STALE = 1.0
"""Seconds after which a lock on a branch, left where no git of ours lives, is nobody's.

Git holds such a lock for the blink in which it writes forty letters.
"""

_MARK = b"trueup\n"


def age_of(path: Path) -> float | None:
    """Return how long a file has lain there untouched, in seconds; None where it is gone."""
    try:
        return max(0.0, time.time() - os.lstat(path).st_mtime)
    except OSError:
        return None


def wait_until_free(*paths: Path) -> None:
    """Let the gits that hold these lock files finish; raises `Locked` where one does not."""
    give_up = time.monotonic() + PATIENCE
    for path in paths:
        while os.path.lexists(path):
            if time.monotonic() > give_up:
                raise Locked(str(path), age_of(path))
            time.sleep(0.05)


@contextmanager
def marked(path: Path, aside: Path) -> Iterator[None]:
    """Hold a lock file of git's with our mark in it; `aside` is where it is made ready.

    Raises `Locked` where another holds it, `OSError`.
    """
    aside.unlink(missing_ok=True)
    aside.write_bytes(_MARK)
    try:
        wait_until_free(path)
        _put_in_place(aside, path)
    finally:
        aside.unlink(missing_ok=True)
    try:
        yield
    finally:
        path.unlink(missing_ok=True)


def _put_in_place(aside: Path, path: Path) -> None:
    try:
        # A link appears whole: no kill leaves a lock without its mark.
        os.link(aside, path)
    except FileExistsError:
        raise Locked(str(path), age_of(path)) from None
    except OSError:
        # A disk that knows no links.
        with path.open("xb") as file:
            file.write(_MARK)


def take_away_marked(path: Path) -> None:
    """Take a lock file away if it bears our mark; only for who keeps all other writers out."""
    with suppress(FileNotFoundError):
        if path.stat().st_size == len(_MARK) and path.read_bytes() == _MARK:
            path.unlink()


def take_away_stale(path: Path, since: float) -> None:
    """Take away a lock file that a git of ours, begun at `since` (seconds, as files date), left.

    Only for who knows that no such git lives. A younger one of the maker's own git is told by its
    not staying.
    """
    found = _identity(path)
    if found is None or found[1] < since:
        return
    give_up = time.monotonic() + STALE
    while time.monotonic() < give_up:
        time.sleep(0.05)
        if _identity(path) != found:
            return
    path.unlink(missing_ok=True)


def _identity(path: Path) -> tuple[int, float] | None:
    try:
        found = os.lstat(path)
    except FileNotFoundError:
        return None
    return found.st_ino, found.st_mtime
