"""Write a file outside the wardrobe so that it is there in full or not at all."""

import os
import tempfile
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from cli.failures import Misused
from lineage.store.paths import SETTINGS, is_owned


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

    Raises Misused when it is there and may not be replaced, OSError, and what the parts raise; then
    nothing is written.
    """
    require_new(file, replace=replace)
    size = 0
    handle, waiting = tempfile.mkstemp(prefix=".trueup-", suffix=file.suffix, dir=file.parent)
    try:
        with os.fdopen(handle, "wb") as stream:
            for part in (content,) if isinstance(content, bytes) else content:
                size += stream.write(part)
            stream.flush()
            os.fsync(stream.fileno())
        os.chmod(waiting, 0o666 & ~_umask())
        _put(waiting, file, replace=replace)
    except BaseException as error:
        with suppress(OSError):
            os.unlink(waiting)
        if isinstance(error, OSError):
            error.filename = str(file)  # a disk that is full does not say what it was full for
        raise
    return size


def _put(waiting: str, file: Path, *, replace: bool) -> None:
    if replace:
        os.replace(waiting, file)
        return
    try:
        os.link(waiting, file)  # unlike a rename, a link never takes the place of another file
    except FileExistsError:
        raise Misused(f"{file} is there already; take another name, or use --force.") from None
    except OSError:
        os.replace(waiting, file)  # a file system without links
    else:
        os.unlink(waiting)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
