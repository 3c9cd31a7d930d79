"""What a stopped process asks through its listener, and the answers to it."""

import ctypes
import fcntl
import os
import select
import struct
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from tests.faults.watching.system_calls import PIDFD_GETFD, Held, Named

_NOTICE = struct.Struct("QIIiIQ6Q")
_RESPONSE = struct.Struct("QqiI")
_RECEIVE, _SEND = 0xC0502100, 0xC0182101
_GO_ON = 1
_THE_FOLDER_STOOD_IN = -100
_LONGEST_PATH = 4096


@dataclass(frozen=True)
class Asked:
    """One call that waits for an answer: who makes it, its number, and its arguments."""

    listener: int
    notice: int
    process: int
    number: int
    arguments: tuple[int, ...]

    def go_on(self) -> None:
        """Let the call be made as it is."""
        self._answer(0, 0, _GO_ON)

    def fail(self, error: int) -> None:
        """Let the call fail with an error number, without being made."""
        self._answer(0, -error, 0)

    def has_written(self, length: int) -> None:
        """Let the call return as if it had written so many bytes."""
        self._answer(length, 0, 0)

    def _answer(self, value: int, error: int, flags: int) -> None:
        with suppress(FileNotFoundError):  # killed in the meantime
            fcntl.ioctl(self.listener, _SEND, _RESPONSE.pack(self.notice, value, error, flags))

    def place(self, named: Named | Held) -> str:
        """Return the path an argument stands for; of a pipe or the like, no path but a word."""
        if isinstance(named, Held):
            return self._behind(_signed(self.arguments[named.descriptor]))
        folder = _THE_FOLDER_STOOD_IN
        if named.folder is not None:
            folder = _signed(self.arguments[named.folder])
        text = os.fsdecode(self._text(self.arguments[named.pointer]))
        if text.startswith("/"):
            return os.path.normpath(text)
        if folder == _THE_FOLDER_STOOD_IN:
            above = os.readlink(f"/proc/{self.process}/cwd")
        else:
            above = self._behind(folder)
        return os.path.normpath(f"{above}/{text}")

    def _behind(self, descriptor: int) -> str:
        try:
            return os.readlink(f"/proc/{self.process}/fd/{descriptor}").removesuffix(" (deleted)")
        except OSError:
            return ""

    def program(self) -> str:
        """Return what makes the call: git with its command, or the name of the program."""
        try:
            words = Path(f"/proc/{self.process}/cmdline").read_bytes().split(b"\0")
        except OSError:
            return ""
        name = os.path.basename(os.fsdecode(words[0]))
        if name != "git":
            return "python" if name.startswith("python") else name
        after = iter(words[1:])
        for word in after:
            if word in (b"-c", b"-C"):
                next(after, None)
            elif not word.startswith(b"-"):
                return f"git {os.fsdecode(word)}"
        return name

    def memory(self, start: int, length: int) -> bytes:
        """Return what lies in the memory of the process."""
        with open(f"/proc/{self.process}/mem", "rb", buffering=0) as memory:
            memory.seek(start)
            return memory.read(length)

    def _text(self, start: int) -> bytes:
        found = b""
        while b"\0" not in found and len(found) < _LONGEST_PATH:
            page_end = 4096 - (start + len(found)) % 4096
            found += self.memory(start + len(found), page_end)
        return found.partition(b"\0")[0]

    def file(self, descriptor: int) -> int:
        """Return a descriptor of our own for an open file of the process, position and all."""
        handle = os.pidfd_open(self.process)
        try:
            libc = ctypes.CDLL(None, use_errno=True)
            found = libc.syscall(PIDFD_GETFD, handle, descriptor, 0)
        finally:
            os.close(handle)
        if found < 0:
            raise OSError(ctypes.get_errno(), "its open file cannot be reached")
        return int(found)


def _signed(argument: int) -> int:
    return ctypes.c_int(argument & 0xFFFFFFFF).value


def next_asked(listener: int) -> Asked | None:
    """Wait for the next call; None when no process is left that could make one."""
    watched = select.poll()
    watched.register(listener, select.POLLIN)
    while True:
        ((_, events),) = watched.poll()
        if not events & select.POLLIN:
            return None
        try:
            notice = fcntl.ioctl(listener, _RECEIVE, bytes(_NOTICE.size))
        except (FileNotFoundError, InterruptedError):
            continue  # it was killed before it could be heard
        number, process, _, call, _, _, *arguments = _NOTICE.unpack(notice)
        return Asked(listener, number, process, call, tuple(arguments))
