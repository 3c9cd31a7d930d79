"""Write a file outside the wardrobe so that it is there in full or not at all."""

import hashlib
import os
import tempfile
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import IO

from trueup.cli.failures import Misused
from trueup.lineage.store.files.paths import SETTINGS, is_owned


def require_new(file: Path, *, replace: bool) -> None:
    """Raise Misused where a file cannot be written.

    It is there already, its folder is not, or it would lie among a wardrobe's own files: there it
    would be taken for an edit by hand, and become a step.
    """
    if not replace and os.path.lexists(file):
        raise Misused(f"{file} is there already; take another name, or write over it with --force.")
    if file.is_dir():
        raise Misused(f"{file} is a folder; name a file in it.")
    if not file.parent.is_dir():
        raise Misused(f"There is no folder {file.parent}; make it first, or name another.")
    if _is_among_own_files(file):
        raise Misused(
            f"{file} lies among the wardrobe's own files, and your next step would take it up; "
            "write it beside their folders or outside the wardrobe."
        )


def _is_among_own_files(file: Path) -> bool:
    place = file.resolve()
    return any(
        (folder / SETTINGS).is_file() and is_owned(place.relative_to(folder).as_posix())
        for folder in place.parents
    )


def write_new(file: Path, content: bytes | Iterable[bytes], *, replace: bool) -> int:
    """Write a file, whole or part by part, and return its size in bytes.

    Killed at any moment, it leaves the file as before or written, and nothing beside it. Raises
    Misused when it is there and may not be replaced, OSError, and what the parts raise; then
    nothing is written.
    """
    require_new(file, replace=replace)
    parts = (content,) if isinstance(content, bytes) else content
    try:
        handle = _nameless(file.parent)
        if handle is None:
            return _write_beside(file, parts, replace=replace)
        with os.fdopen(handle, "wb") as stream:
            size = _fill(stream, parts)
            if replace:
                _take_the_place(handle, file)
            else:
                _give_name(handle, file)  # unlike a rename, never takes another file's place
            return size
    except OSError as error:
        if isinstance(error, FileExistsError) and not replace:
            there = f"{file} is there already; take another name, or use --force."
            raise Misused(there) from None
        error.filename = str(file)  # a disk that is full does not say what it was full for
        raise


def _nameless(folder: Path) -> int | None:
    """Open a file that has no name until it is given one; None where the system knows no such."""
    try:
        handle = os.open(folder, os.O_TMPFILE | os.O_WRONLY, 0o666)
    except (AttributeError, OSError):
        return None
    if os.path.lexists(_own(handle)):
        return handle
    os.close(handle)
    return None


def _own(handle: int) -> str:
    return f"/proc/self/fd/{handle}"


def _give_name(handle: int, name: Path) -> None:
    os.link(_own(handle), name, src_dir_fd=handle, follow_symlinks=True)


def _take_the_place(handle: int, file: Path) -> None:
    """Give a nameless file the name of one that is there.

    In between it has a name that is the same each time: what a command killed there left is
    cleared by the next one that writes the same file.
    """
    name = hashlib.sha256(os.fsencode(file.name)).hexdigest()[:16]
    waiting = file.with_name(f".trueup-{name}{file.suffix}")
    for last in (False, False, True):
        try:
            _give_name(handle, waiting)
            os.replace(waiting, file)
            return
        except (FileExistsError, FileNotFoundError):
            # Left by one that was killed, or taken by one that writes the same file just now.
            if last:
                raise
            with suppress(FileNotFoundError):
                os.unlink(waiting)
        except OSError:
            with suppress(OSError):
                os.unlink(waiting)
            raise


def _write_beside(file: Path, parts: Iterable[bytes], *, replace: bool) -> int:
    """Write a file under another name first, for a system without nameless files."""
    handle, waiting = tempfile.mkstemp(prefix=".trueup-", suffix=file.suffix, dir=file.parent)
    try:
        with os.fdopen(handle, "wb") as stream:
            size = _fill(stream, parts)
        os.chmod(waiting, 0o666 & ~_umask())
        _put(waiting, file, replace=replace)
    finally:
        with suppress(OSError):
            os.unlink(waiting)
    return size


def _fill(stream: IO[bytes], parts: Iterable[bytes]) -> int:
    size = sum(stream.write(part) for part in parts)
    stream.flush()
    os.fsync(stream.fileno())
    return size


def _put(waiting: str, file: Path, *, replace: bool) -> None:
    if not replace:
        try:
            os.link(waiting, file)
        except FileExistsError:
            raise
        except OSError:
            pass  # a file system without links
        else:
            return
    os.replace(waiting, file)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
