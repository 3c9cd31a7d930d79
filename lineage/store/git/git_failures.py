"""What a git command that failed stands for: judged here, and nowhere else.

    was stopped by a signal, or had no memory   GitStopped; CannotWrite for what was writing
    another git holds a lock file               Locked, with the file and its age
    could not write                             CannotWrite
    was not allowed to read                     CannotRead
    anything else                               Damaged

Git is always run in English, so its words can be searched.
"""

import os
import re
from pathlib import Path

from trueup.lineage.errors import (
    CannotRead,
    CannotWrite,
    Damaged,
    GitStopped,
    Locked,
    WardrobeError,
)
from trueup.lineage.store.git.lock_files import age_of

_WRITING = frozenset(
    (
        *("fast-import", "unpack-objects", "index-pack", "hash-object", "write-tree"),
        *("update-ref", "symbolic-ref", "update-index", "read-tree", "init"),
    )
)
"""The commands of git that write; where another says "permission denied", it could not read."""

_REFUSED = (
    "permission denied",
    "operation not permitted",
    "input/output error",
    "too many open files",
)
_WRITING_FAILED = re.compile(
    r"no space left|disk quota|read-only file system|file too large"
    r"|(write|fsync) error|error on close"
    r"|(could not|couldn't|cannot|can't|unable to|failed to)"
    r" (append|close|create|fsync|lock|mkdir|move|rename|set|store|truncate|unlink|update|write)\b"
)
_KILLED = re.compile(r"died of signal (\d+)")
_LOCKED = re.compile(r"unable to create '(?P<path>[^']+\.lock)': file exists", re.IGNORECASE)
_STORED = re.compile(r"\(stored in (?P<path>[^)]+)\)")
_NO_MEMORY = ("out of memory", "cannot allocate memory", "malloc failed")


def judged(git_dir: Path, command: str, status: int, complaint: str) -> WardrobeError:
    """Return the error that a failed command of git stands for.

    `status` is what it ended with (below 0: the signal that stopped it), `complaint` what it wrote
    to its error output.
    """
    reason, lowered = _last_line(complaint), complaint.lower()
    is_writing = command in _WRITING
    stopped = _stopped(status, lowered)
    if stopped:
        error = CannotWrite if is_writing else GitStopped
        return error(str(git_dir), stopped)
    locked = _LOCKED.search(complaint)
    if locked:
        return Locked(locked["path"], age_of(Path(locked["path"])))
    if is_writing and (_WRITING_FAILED.search(lowered) or _is_refused(lowered)):
        return CannotWrite(str(git_dir), reason)
    if _is_refused(lowered):
        return CannotRead(str(git_dir), reason)
    stored = _STORED.search(complaint)
    if stored and os.path.exists(stored["path"]) and not os.access(stored["path"], os.R_OK):
        return CannotRead(stored["path"], "Permission denied")
    reason = reason or "git ended without a word"
    if command == "rev-list":
        reason = f"its history has a gap ({reason})"
    return Damaged(str(git_dir), reason)


def not_given(git_dir: Path, object_id: str, reason: str) -> Damaged:
    """Return what it stands for that git does not give something stored in a file of its own.

    Git says of what may not be read that it is missing.
    """
    return closed_object(git_dir, object_id) or Damaged(str(git_dir), reason)


def closed_object(git_dir: Path, object_id: str) -> CannotRead | None:
    """Return the error where something stored in a file of its own may not be read."""
    return closed(git_dir / "objects" / object_id[:2] / object_id[2:])


def closed(file: Path) -> CannotRead | None:
    """Return the error where a file may not be read, None where it may, or is none."""
    try:
        os.close(os.open(file, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0)))
    except PermissionError as error:
        return CannotRead(str(file), error.strerror or str(error))
    except OSError:
        pass
    return None


def _stopped(status: int, lowered: str) -> str:
    """Return what kept git from its end, "" where nothing did."""
    killed = _KILLED.search(lowered)
    if status < 0 or killed:
        signal = -status if status < 0 else int(killed[1]) if killed else 0
        return f"git was stopped by signal {signal}"
    return "git had not enough memory" if any(sign in lowered for sign in _NO_MEMORY) else ""


def _is_refused(lowered: str) -> bool:
    return any(sign in lowered for sign in _REFUSED)


def _last_line(complaint: str) -> str:
    lines = [line for line in complaint.splitlines() if line and not line.startswith("hint:")]
    return lines[-1].removeprefix("fatal: ").removeprefix("error: ") if lines else ""
