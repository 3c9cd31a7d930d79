"""What is to befall a command at its n-th writing call, and which calls that can befall."""

import errno
import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from tests.faults.watching.system_calls import Kind

_OF_ONE_KIND = re.compile(r"(?<=/)(?:[0-9a-f]{2}|[0-9a-f]{38,64}|#\d+)(?=/|$)|(?<=_)\w{6,8}$")


class Fault(Enum):
    """What befalls a command."""

    KILL = "the whole tree of processes is killed before the call"
    TEAR = "half of what is to be written is written, then the whole tree is killed"
    KILL_GIT = "only the git that makes the call is killed"
    ORPHAN = "the command is killed, and its git goes on a while later"
    FAIL_ONCE = "this one call fails"
    FAIL_ON = "this call and every one after it fails"


@dataclass(frozen=True)
class WritingCall:
    """One writing call as it was about to be made: by which program, where, and how."""

    number: int
    name: str
    kind: Kind
    program: str
    paths: tuple[str, ...]
    makes_new: bool = False
    """Of an opening: whether the file is not there yet."""

    def __str__(self) -> str:
        return f"{self.number}: {self.program}: {self.name} {' -> '.join(self.paths)}"

    @property
    def likeness(self) -> tuple[str, ...]:
        """What it has in common with calls like it, such as those for each object of a step."""
        return (self.program, self.name, *(_OF_ONE_KIND.sub("#", path) for path in self.paths))


@dataclass(frozen=True)
class Mode:
    """A kind of fault, and the error of one that fails."""

    name: str
    fault: Fault
    error: int = 0

    def can_befall(self, call: WritingCall) -> bool:
        """Return whether a system could do this to a call, as the first of those that fail."""
        match self.fault:
            case Fault.KILL:
                return True
            case Fault.TEAR:
                return call.kind is Kind.WRITE
            case Fault.KILL_GIT | Fault.ORPHAN:
                return call.program.startswith("git")
        return self.fails(call)

    def fails(self, call: WritingCall) -> bool:
        """Return whether a call fails on a system that is in this state."""
        by_name = call.kind not in (Kind.WRITE, Kind.SYNC)
        match self.error:
            case errno.ENOSPC if call.kind is Kind.OPEN:
                return call.makes_new
            case errno.ENOSPC:
                # A full disk still takes names away, and mostly still moves them.
                rarely = call.kind is Kind.MOVE and self.fault is Fault.FAIL_ONCE
                return call.kind in (Kind.WRITE, Kind.MAKE) or rarely
            case errno.EACCES:
                return by_name
            case errno.EROFS:
                # A file system that turned read only because of an error refuses open files too.
                return by_name or self.fault is Fault.FAIL_ON
        return True


def _failing(fault: Fault, name: str) -> dict[str, Mode]:
    found = {}
    for error in (errno.EIO, errno.ENOSPC, errno.EACCES, errno.EROFS):
        full = f"{name}-{errno.errorcode[error]}"
        found[full] = Mode(full, fault, error)
    return found


MODES: Mapping[str, Mode] = {
    "kill": Mode("kill", Fault.KILL),
    "tear": Mode("tear", Fault.TEAR),
    "kill-git": Mode("kill-git", Fault.KILL_GIT),
    "orphan": Mode("orphan", Fault.ORPHAN),
    **_failing(Fault.FAIL_ONCE, "once"),
    **_failing(Fault.FAIL_ON, "from"),
}


@dataclass(frozen=True)
class Order:
    """A mode, and the number of the writing call it begins at."""

    mode: Mode
    at: int

    def __str__(self) -> str:
        return f"{self.mode.name}@{self.at}"
