"""The system calls that change a file system, where each names what it changes, and their numbers.

Linux only; `kernel_filter.py` and `watch.py` use this table.
"""

import platform
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum


class Kind(Enum):
    """What a writing call does, as far as it matters to what can befall it."""

    OPEN = "open"
    WRITE = "write"
    SYNC = "sync"
    MAKE = "make"
    MOVE = "move"
    REMOVE = "remove"
    ADJUST = "adjust"


@dataclass(frozen=True)
class Named:
    """A path in memory, relative to a folder's descriptor unless that is None."""

    pointer: int
    folder: int | None = None


@dataclass(frozen=True)
class Held:
    """An open file, by its descriptor."""

    descriptor: int


@dataclass(frozen=True)
class SystemCall:
    """One writing call: which arguments name its places; for `OPEN`, which one holds its flags."""

    name: str
    kind: Kind
    places: tuple[Named | Held, ...]
    flags: int | None = None


_CALLS = (
    SystemCall("open", Kind.OPEN, (Named(0),), flags=1),
    SystemCall("creat", Kind.OPEN, (Named(0),)),
    SystemCall("openat", Kind.OPEN, (Named(1, 0),), flags=2),
    SystemCall("openat2", Kind.OPEN, (Named(1, 0),)),
    SystemCall("write", Kind.WRITE, (Held(0),)),
    SystemCall("pwrite64", Kind.WRITE, (Held(0),)),
    SystemCall("writev", Kind.WRITE, (Held(0),)),
    SystemCall("pwritev", Kind.WRITE, (Held(0),)),
    SystemCall("pwritev2", Kind.WRITE, (Held(0),)),
    SystemCall("sendfile", Kind.WRITE, (Held(0),)),
    SystemCall("copy_file_range", Kind.WRITE, (Held(2),)),
    SystemCall("fallocate", Kind.WRITE, (Held(0),)),
    SystemCall("fsync", Kind.SYNC, (Held(0),)),
    SystemCall("fdatasync", Kind.SYNC, (Held(0),)),
    SystemCall("mkdir", Kind.MAKE, (Named(0),)),
    SystemCall("mkdirat", Kind.MAKE, (Named(1, 0),)),
    SystemCall("mknod", Kind.MAKE, (Named(0),)),
    SystemCall("mknodat", Kind.MAKE, (Named(1, 0),)),
    SystemCall("symlink", Kind.MAKE, (Named(1),)),
    SystemCall("symlinkat", Kind.MAKE, (Named(2, 1),)),
    SystemCall("link", Kind.MAKE, (Named(1),)),
    SystemCall("linkat", Kind.MAKE, (Named(3, 2),)),
    SystemCall("rename", Kind.MOVE, (Named(0), Named(1))),
    SystemCall("renameat", Kind.MOVE, (Named(1, 0), Named(3, 2))),
    SystemCall("renameat2", Kind.MOVE, (Named(1, 0), Named(3, 2))),
    SystemCall("unlink", Kind.REMOVE, (Named(0),)),
    SystemCall("unlinkat", Kind.REMOVE, (Named(1, 0),)),
    SystemCall("rmdir", Kind.REMOVE, (Named(0),)),
    SystemCall("truncate", Kind.ADJUST, (Named(0),)),
    SystemCall("ftruncate", Kind.ADJUST, (Held(0),)),
    SystemCall("chmod", Kind.ADJUST, (Named(0),)),
    SystemCall("fchmod", Kind.ADJUST, (Held(0),)),
    SystemCall("fchmodat", Kind.ADJUST, (Named(1, 0),)),
    SystemCall("utime", Kind.ADJUST, (Named(0),)),
    SystemCall("utimes", Kind.ADJUST, (Named(0),)),
    SystemCall("utimensat", Kind.ADJUST, (Named(1, 0),)),
)

# Of the kernel's own headers, asm/unistd.h of each machine.
_X86_64 = {
    **{"write": 1, "open": 2, "pwrite64": 18, "writev": 20, "sendfile": 40, "fsync": 74},
    **{"fdatasync": 75, "truncate": 76, "ftruncate": 77, "rename": 82, "mkdir": 83, "rmdir": 84},
    **{"creat": 85, "link": 86, "unlink": 87, "symlink": 88, "chmod": 90, "fchmod": 91},
    **{"utime": 132, "mknod": 133, "utimes": 235, "openat": 257, "mkdirat": 258, "mknodat": 259},
    **{"unlinkat": 263, "renameat": 264, "linkat": 265, "symlinkat": 266, "fchmodat": 268},
    **{"utimensat": 280, "fallocate": 285, "pwritev": 296, "renameat2": 316},
    **{"copy_file_range": 326, "pwritev2": 328, "openat2": 437},
}
_AARCH64 = {
    **{"mknodat": 33, "mkdirat": 34, "unlinkat": 35, "symlinkat": 36, "linkat": 37},
    **{"renameat": 38, "truncate": 45, "ftruncate": 46, "fallocate": 47, "fchmod": 52},
    **{"fchmodat": 53, "openat": 56, "write": 64, "writev": 66, "pwrite64": 68, "pwritev": 70},
    **{"sendfile": 71, "fsync": 82, "fdatasync": 83, "utimensat": 88, "renameat2": 276},
    **{"copy_file_range": 285, "pwritev2": 287, "openat2": 437},
}
_NUMBERS: Mapping[str, Mapping[str, int]] = {"x86_64": _X86_64, "aarch64": _AARCH64}

AUDIT_NAMES: Mapping[str, int] = {"x86_64": 0xC000003E, "aarch64": 0xC00000B7}
"""What the kernel calls each machine when it asks a filter."""

SECCOMP_NUMBERS: Mapping[str, int] = {"x86_64": 317, "aarch64": 277}
PIDFD_GETFD = 438


def of_this_machine() -> Mapping[int, SystemCall]:
    """Return the writing calls by their number on this machine; none on an unknown one."""
    numbers = _NUMBERS.get(platform.machine(), {})
    return {numbers[call.name]: call for call in _CALLS if call.name in numbers}
