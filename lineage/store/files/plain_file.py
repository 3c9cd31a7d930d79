"""Read a file that may be anything: a device, a pipe nobody writes to, more than the memory holds.

It is opened without waiting, looked at, and only then read, no further than its limit.
"""

import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

_NOT_WAITING = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
_NOT_FOLLOWING = getattr(os, "O_NOFOLLOW", 0)


class NotPlain(Exception):
    """A file that is not read; its text ends a sentence."""

    def __init__(
        self, reason: str, *, is_missing: bool = False, is_too_large: bool = False
    ) -> None:
        super().__init__(reason)
        self.is_missing = is_missing
        self.is_too_large = is_too_large


def read_plain(place: Path, largest: int, *, follow: bool = True) -> bytes:
    """Return the bytes of a plain file of at most `largest` bytes; raises NotPlain.

    Unless links are to be followed, a link is no plain file either.
    """
    with opened_plain(place, largest, follow=follow) as stream:
        content = stream.read(largest + 1)
    if len(content) > largest:  # it grew, or lies where the system tells no size
        raise _too_large(largest)
    return content


@contextmanager
def opened_plain(place: Path, largest: int, *, follow: bool = True) -> Iterator[IO[bytes]]:
    """Open a plain file of at most `largest` bytes for reading; raises NotPlain, then as well."""
    try:
        _require_plain(os.stat(place, follow_symlinks=follow), largest)
        # The file may be another by now: a link is not followed, a pipe is not waited for.
        handle = os.open(place, os.O_RDONLY | _NOT_WAITING | (0 if follow else _NOT_FOLLOWING))
        with open(handle, "rb") as stream:
            _require_plain(os.fstat(handle), largest)
            yield stream
    except (FileNotFoundError, NotADirectoryError):
        raise NotPlain("there is no such file", is_missing=True) from None
    except OSError as error:
        raise NotPlain((error.strerror or str(error)).lower()) from None
    except ValueError:
        raise NotPlain("that is no name of a file") from None


def _require_plain(found: os.stat_result, largest: int) -> None:
    if stat.S_ISLNK(found.st_mode):
        raise NotPlain("it is a link to another place")
    if stat.S_ISDIR(found.st_mode):
        raise NotPlain("it is a folder")
    if not stat.S_ISREG(found.st_mode):
        raise NotPlain("it is not a plain file")
    if found.st_size > largest:
        raise _too_large(largest)


def _too_large(largest: int) -> NotPlain:
    return NotPlain(f"it is larger than {largest // 1_000_000} MB", is_too_large=True)
