"""Put a file in another's place such that nothing is ever lost: the two change places."""

import ctypes
import errno
import os
import sys
from collections.abc import Callable
from pathlib import Path

_AT_WORKING_FOLDER = -100
_EXCHANGE_LINUX = 2
_EXCHANGE_MACOS = 2


def exchange(one: Path, other: Path) -> bool:
    """Let two files change places at one stroke; False where the system or disk cannot.

    Raises `OSError` where one of them is not there, or may not be moved.
    """
    call = _system_call()
    if call is None:
        return False
    if call(os.fsencode(one), os.fsencode(other)) == 0:
        return True
    number = ctypes.get_errno()
    if number in (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP):
        return False
    raise OSError(number, os.strerror(number), str(one), None, str(other))


def _system_call() -> Callable[[bytes, bytes], int] | None:
    if os.name != "posix":
        return None
    library = ctypes.CDLL(None, use_errno=True)
    if sys.platform.startswith("linux") and hasattr(library, "renameat2"):
        swap = library.renameat2
        return lambda one, other: int(
            swap(_AT_WORKING_FOLDER, one, _AT_WORKING_FOLDER, other, _EXCHANGE_LINUX)
        )
    if sys.platform == "darwin" and hasattr(library, "renamex_np"):
        swap = library.renamex_np
        return lambda one, other: int(swap(one, other, _EXCHANGE_MACOS))
    return None
