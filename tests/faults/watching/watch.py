"""Watch a command: count the writing calls of all its processes, and do as ordered at the n-th."""

import errno
import os
import signal
import struct
import threading
import time
from collections.abc import Sequence
from contextlib import suppress

from tests.faults.watching.asked import Asked, next_asked
from tests.faults.watching.orders import Fault, Order, WritingCall
from tests.faults.watching.system_calls import Kind, of_this_machine

ORPHAN_PAUSE = 0.4
"""Seconds for which a git whose command was killed is held up: the next command meets it alive."""

_VECTOR = struct.Struct("PN")


class Watch:
    """The writing calls of one tree of processes under the given folders.

    `leader` is the process at its root, whose process group all of it belongs to.
    """

    def __init__(
        self, listener: int, leader: int, roots: Sequence[str], order: Order | None = None
    ) -> None:
        self.calls: list[WritingCall] = []
        self.hit: WritingCall | None = None
        self._listener = listener
        self._leader = leader
        self._roots = [os.path.realpath(root) for root in roots]
        self._order = order
        self._table = of_this_machine()
        self._thread = threading.Thread(target=self._run, daemon=True)
        self._thread.start()

    def ended(self, patience: float) -> bool:
        """Wait until every process of the tree has ended; kills those that do not, and says so."""
        self._thread.join(patience)
        if not self._thread.is_alive():
            return True
        self._kill()
        self._thread.join(patience)
        return False

    def _kill(self) -> None:
        with suppress(ProcessLookupError):
            os.killpg(self._leader, signal.SIGKILL)

    def _run(self) -> None:
        try:
            while (asked := next_asked(self._listener)) is not None:
                try:
                    self._meet(asked)
                except (OSError, ValueError):
                    asked.go_on()  # the process went away while it was looked at
        finally:
            os.close(self._listener)

    def _meet(self, asked: Asked) -> None:
        call = self._counted(asked)
        if call is None:
            asked.go_on()
            return
        self.calls.append(call)
        order = self._order
        if order is None or call.number < order.at:
            asked.go_on()
        elif self.hit is None:
            if order.mode.can_befall(call):
                self.hit = call
                self._befall(asked, call, order)
            else:
                self._order = None  # the calls came otherwise than when they were counted
                asked.go_on()
        elif order.mode.fault is Fault.FAIL_ON and order.mode.fails(call):
            asked.fail(order.mode.error)
        else:
            asked.go_on()

    def _counted(self, asked: Asked) -> WritingCall | None:
        found = self._table[asked.number]
        paths = tuple(asked.place(place) for place in found.places)
        if not any(self._is_ours(path) for path in paths):
            return None
        is_new = found.kind is Kind.OPEN and not os.path.lexists(paths[0])
        told = tuple(self._told(path) for path in paths)
        number = len(self.calls) + 1
        return WritingCall(number, found.name, found.kind, asked.program(), told, is_new)

    def _told(self, path: str) -> str:
        for root in self._roots:
            if path.startswith(root + "/"):
                return path.removeprefix(root + "/")
        return path

    def _is_ours(self, path: str) -> bool:
        return any(path == root or path.startswith(root + "/") for root in self._roots)

    def _befall(self, asked: Asked, call: WritingCall, order: Order) -> None:
        match order.mode.fault:
            case Fault.KILL:
                self._kill()
            case Fault.TEAR:
                _write_half(asked, call)
                self._kill()
            case Fault.KILL_GIT:
                os.kill(asked.process, signal.SIGKILL)
            case Fault.ORPHAN:
                os.kill(self._leader, signal.SIGKILL)
                time.sleep(ORPHAN_PAUSE)
                asked.go_on()
            case Fault.FAIL_ON if order.mode.error == errno.ENOSPC and call.kind is Kind.WRITE:
                # What still has room is written, as on a disk that fills up in the middle.
                half = _write_half(asked, call)
                asked.has_written(half) if half else asked.fail(order.mode.error)
            case _:
                asked.fail(order.mode.error)


def _write_half(asked: Asked, call: WritingCall) -> int:
    """Write the first half of what a call would write; returns how many bytes that is."""
    content, offset = _content(asked, call.name)
    if len(content) < 2:
        return 0
    file = asked.file(asked.arguments[0])
    try:
        half = content[: len(content) // 2]
        return os.write(file, half) if offset is None else os.pwrite(file, half, offset)
    finally:
        os.close(file)


def _content(asked: Asked, name: str) -> tuple[bytes, int | None]:
    """Return what a call would write, and where; nothing for one that writes no memory."""
    _, start, length, offset, *_ = asked.arguments
    match name:
        case "write":
            return asked.memory(start, length), None
        case "pwrite64":
            return asked.memory(start, length), offset
        case "writev":
            pieces = _VECTOR.iter_unpack(asked.memory(start, length * _VECTOR.size))
            return b"".join(asked.memory(*piece) for piece in pieces), None
    return b"", None
