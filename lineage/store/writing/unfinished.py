"""The one line that says a step is on its way, in a file beside git's own.

It is written once everything of the step is stored, by a rename, so that it is whole or absent;
and it is taken away when the last file has followed. See `step`.
"""

import os
import re
from contextlib import suppress
from pathlib import Path

from msgspec import Struct

from trueup.lineage.errors import CannotWrite
from trueup.lineage.store.files.paths import OWN_FOLDER

_LINE = re.compile(rb"(?P<commit>[0-9a-f]{40}(?:[0-9a-f]{24})?) (?P<branch>refs/heads/[^\0\n]+)\n")
_LONGEST = 4096  # bytes; a branch's name is far shorter


class Unfinished(Struct, frozen=True):
    """A step on its way: its commit, the branch that is to move to it, and since when (s)."""

    commit: str
    branch: str
    since: float


def place(git_dir: Path) -> Path:
    """Return the file that keeps a step while it is on its way."""
    return git_dir / OWN_FOLDER / "step"


def read(git_dir: Path) -> Unfinished | None:
    """Return the step on its way; None without one, and for a file that names none."""
    try:
        with place(git_dir).open("rb") as file:
            found = _LINE.fullmatch(file.read(_LONGEST))
            since = os.fstat(file.fileno()).st_mtime
    except OSError:
        return None
    if found is None:
        return None
    return Unfinished(found["commit"].decode(), os.fsdecode(found["branch"]), since)


def keep(git_dir: Path, commit: str, branch: str) -> None:
    """Write down that a step is on its way; raises `CannotWrite`."""
    file = place(git_dir)
    new = file.with_name("step.new")
    try:
        with new.open("wb") as stream:
            stream.write(os.fsencode(f"{commit} {branch}\n"))
            stream.flush()
            os.fsync(stream.fileno())
        os.replace(new, file)
    except OSError as error:
        with suppress(OSError):
            new.unlink()
        raise CannotWrite(str(file), error.strerror or str(error)) from error


def forget(git_dir: Path) -> None:
    """Take the line away: the step is finished, or dropped. Raises `CannotWrite`."""
    file = place(git_dir)
    try:
        file.with_name("step.new").unlink(missing_ok=True)
        file.unlink(missing_ok=True)
    except OSError as error:
        raise CannotWrite(str(file), error.strerror or str(error)) from error
