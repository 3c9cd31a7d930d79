"""The folder the cache lies in: the user's own, closed to everyone else, or none at all.

This is the one place of `lineage` that reads the environment: where a user's cache folder lies is
the same for everyone who opens a wardrobe, from the command or from Python.
"""

import hashlib
import os
import stat
import time
from contextlib import suppress
from pathlib import Path

PLACE = "TRUEUP_CACHE"
"""The variable that names another folder to make the cache folder in."""

LARGEST_TOGETHER = 2 * 2**30
"""Bytes the cache files of all wardrobes take before the least recently used ones go."""

_NAME = "trueup"
_ENDING = ".sqlite"
_SECRET = "secret"
_SECRET_BYTES = 32
_DAY = 86400


def private_folder(wardrobe: Path) -> Path | None:
    """Return the cache folder to be used for a wardrobe, made where it is missing.

    None unless it is a folder, and no link, that belongs to the user and is closed to others; one
    that others may look into is closed first. None, too, where it would lie inside the wardrobe,
    for whoever made the wardrobe would have filled it.
    """
    folder = _wanted()
    if folder is None or Path(os.path.realpath(folder)).is_relative_to(os.path.realpath(wardrobe)):
        return None
    with suppress(OSError):
        _make(folder)
        if not _is_own(folder.lstat(), stat.S_IFDIR):
            return None
        if _is_open(folder.lstat()):
            folder.chmod(0o700)
        return None if _is_open(folder.lstat()) else folder
    return None


def secret_of(folder: Path) -> bytes | None:
    """Return the bytes only this user's program knows, made anew where there are none to be used.

    None where they cannot be kept.
    """
    path = folder / _SECRET
    with suppress(OSError):
        found = _read_secret(path)
        if found is None:
            _write_secret(path)
            # Read again: another command may have put its own there in the same moment.
            found = _read_secret(path)
        return found
    return None


def file_of(folder: Path, wardrobe: Path) -> Path:
    """Return the file for a wardrobe in the cache folder; two wardrobes never share one.

    Where it is new, room is made for it; where it is not, it is noted that it was used.
    """
    real = os.fsencode(os.path.realpath(wardrobe))
    path = folder / (hashlib.sha256(real).hexdigest()[:32] + _ENDING)
    with suppress(OSError):  # in a folder that can only be read, files are read
        if not os.path.lexists(path):
            _make_room(folder)
        elif path.lstat().st_mtime < time.time() - _DAY:
            os.utime(path, follow_symlinks=False)
    return path


def make_ready(path: Path) -> None:
    """See that a plain file of the user's is there, closed to others, and nothing beside it.

    What stands in its place and is none is taken away. Raises OSError where that cannot be done.
    """
    # No journal of ours is ever on the disk. SQLite would follow one that is, and delete the file
    # that it names.
    for end in ("-journal", "-wal", "-shm"):
        path.with_name(path.name + end).unlink(missing_ok=True)
    if os.path.lexists(path) and not _is_own(path.lstat(), stat.S_IFREG):
        path.unlink()
    if not os.path.lexists(path):
        with suppress(FileExistsError):  # another command made it in the same moment
            os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))


def _wanted() -> Path | None:
    place = os.environ.get(PLACE)
    if place:
        folder = Path(place) / _NAME
    else:
        from platformdirs import user_cache_path  # noqa: PLC0415  (not every run needs it)

        try:
            folder = user_cache_path(_NAME, appauthor=False)
        except (OSError, RuntimeError):  # there is no home
            return None
    # A relative one would lie wherever the command is run: in a stranger's wardrobe.
    return folder if folder.is_absolute() else None


def _make(folder: Path) -> None:
    """Make the folder and at most the one above it; nothing in another user's home."""
    for missing in (folder.parent, folder):
        if not os.path.lexists(missing) and _owner(missing.parent.stat()) in {_me(), 0}:
            missing.mkdir(mode=0o700, exist_ok=True)


def _make_room(folder: Path) -> None:
    """Take away the files of wardrobes that were not opened for longest."""
    files = [(path.lstat(), path) for path in folder.glob(f"*{_ENDING}")]
    files.sort(key=lambda found: found[0].st_mtime)
    together = sum(status.st_size for status, _ in files)
    for status, path in files:
        if together <= LARGEST_TOGETHER:
            return
        with suppress(OSError):
            path.unlink()
            together -= status.st_size


def _read_secret(path: Path) -> bytes | None:
    try:
        status = path.lstat()
    except FileNotFoundError:
        return None
    if not _is_own(status, stat.S_IFREG) or _is_open(status) or status.st_size != _SECRET_BYTES:
        return None
    return path.read_bytes()


def _write_secret(path: Path) -> None:
    import tempfile  # noqa: PLC0415  (once for every user)

    handle, made = tempfile.mkstemp(prefix=f"{_SECRET}-", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(os.urandom(_SECRET_BYTES))
            file.flush()
            os.fsync(file.fileno())
        Path(made).replace(path)
    finally:
        for left in path.parent.glob(f"{_SECRET}-*"):  # by a command that was killed here, too
            left.unlink(missing_ok=True)


def _is_own(status: os.stat_result, kind: int) -> bool:
    """Tell whether this is what it should be, belongs to the user and has no second name."""
    is_single = kind == stat.S_IFDIR or status.st_nlink == 1
    return stat.S_IFMT(status.st_mode) == kind and _owner(status) == _me() and is_single


def _is_open(status: os.stat_result) -> bool:
    """Tell whether others may look in; where files have no owner, the user's folder is closed."""
    return _me() != _NOBODY and bool(stat.S_IMODE(status.st_mode) & 0o077)


_NOBODY = -1


def _me() -> int:
    return os.geteuid() if hasattr(os, "geteuid") else _NOBODY


def _owner(status: os.stat_result) -> int:
    return status.st_uid if hasattr(os, "geteuid") else _NOBODY
