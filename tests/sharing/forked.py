"""Programs of ours started in no time: each a process of its own, divided from one that is ready.

That one has loaded all of the program before it is asked for the first. Loading is all that is
saved: what is started has its own id, folder, surroundings, streams and end, and is killed like any
other. A test that is about the start itself starts Python.

    started = start("trueup.cli", "-C", str(folder), "tree", stdout=subprocess.PIPE)
    print(started.stdout.read(), started.wait(HANGS))
"""

import atexit
import json
import os
import select
import signal
import socket
import subprocess
import sys
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, suppress
from functools import cache
from pathlib import Path
from typing import IO

from tests.checkout import IMPORTS, ROOT


class Forked:
    """A process that was started, as `subprocess.Popen` gives one."""

    def __init__(
        self, pid: int, ended: int, stdin: IO[str] | None, stdout: IO[str] | None,
        stderr: IO[str] | None,
    ) -> None:  # fmt: skip
        self.pid = pid
        self.stdin, self.stdout, self.stderr = stdin, stdout, stderr
        self.returncode: int | None = None
        self._ended = ended

    def poll(self) -> int | None:
        """Return how it ended, None while it is at work."""
        with suppress(subprocess.TimeoutExpired):
            return self.wait(0)
        return None

    def wait(self, timeout: float | None = None) -> int:
        """Return how it ended: its exit code, or less than 0 for the signal that killed it.

        Raises subprocess.TimeoutExpired where it has not so many seconds later.
        """
        if self.returncode is None:
            ready, _, _ = select.select([self._ended], [], [], timeout)
            if not ready:
                raise subprocess.TimeoutExpired(str(self.pid), timeout or 0.0)
            self.returncode = int(os.read(self._ended, 16))
            os.close(self._ended)
        return self.returncode

    def communicate(self, timeout: float | None = None) -> tuple[str | None, str | None]:
        """Return all that it wrote, of each stream that is a pipe, once it has ended.

        Raises subprocess.TimeoutExpired as `wait` does.
        """
        with ThreadPoolExecutor(2) as reading:
            streams = (self.stdout, self.stderr)
            parts = [each and reading.submit(each.read) for each in streams]
            self.wait(timeout)
            said = [each and each.result() for each in parts]
        for each in streams:
            if each:
                each.close()
        return said[0], said[1]

    def send_signal(self, number: int) -> None:
        """Send it a signal, unless it has ended."""
        if self.poll() is None:
            os.kill(self.pid, number)

    def kill(self) -> None:
        """Kill it."""
        self.send_signal(signal.SIGKILL)


def start(
    module: str,
    *words: str,
    cwd: Path = ROOT,
    env: Mapping[str, str] | None = None,
    stdin: int | IO[bytes] | IO[str] = subprocess.DEVNULL,
    stdout: int | IO[bytes] | IO[str] = subprocess.DEVNULL,
    stderr: int | IO[bytes] | IO[str] = subprocess.DEVNULL,
    start_new_session: bool = False,
) -> Forked:
    """Run a module as `python -m` does, with these words; `env` is as the tests have it if None.

    Each stream is a file, PIPE or DEVNULL. With a new session it heads a process group of its own.
    """
    ready = _ready()
    with ExitStack() as given:
        ours: list[IO[str] | None] = []
        theirs: list[int] = []
        for stream, is_read in ((stdin, True), (stdout, False), (stderr, False)):
            if stream == subprocess.PIPE:
                read, write = os.pipe()
                own, other, mode = (write, read, "w") if is_read else (read, write, "r")
                ours.append(os.fdopen(own, mode, encoding="utf-8"))
                given.callback(os.close, other)
            else:
                ours.append(None)
                other = stream if isinstance(stream, int) else stream.fileno()
                if stream == subprocess.DEVNULL:
                    other = os.open(os.devnull, os.O_RDWR)
                    given.callback(os.close, other)
            theirs.append(other)
        ended, tells = os.pipe()
        given.callback(os.close, tells)
        surroundings = dict(os.environ if env is None else env)
        asked = {
            "module": module,
            "words": words,
            "cwd": str(cwd),
            "env": surroundings,
            "session": start_new_session,
        }
        socket.send_fds(ready, [json.dumps(asked).encode()], [*theirs, tells])
    return Forked(int(ready.recv(16)), ended, *ours)


@cache
def _ready() -> socket.socket:
    """Start the process that the others are divided from; it ends with this one."""
    ours, theirs = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
    with theirs:
        process = subprocess.Popen(
            [sys.executable, "-m", "tests.sharing.ready", str(theirs.fileno())],
            cwd=ROOT,
            env={**os.environ, "OPENBLAS_NUM_THREADS": "1", "PYTHONPATH": IMPORTS},
            pass_fds=[theirs.fileno()],
            start_new_session=True,
        )

    def end() -> None:
        ours.close()
        process.wait()

    atexit.register(end)
    return ours
