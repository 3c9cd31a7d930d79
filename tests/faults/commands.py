"""Run commands of the program in a folder of their own, watched or not."""

import json
import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from signal import SIGKILL
from types import TracebackType
from typing import Any, Self

from tests.checkout import IMPORTS
from tests.faults.watching.kernel_filter import CannotFilter
from tests.faults.watching.orders import Fault, Order, WritingCall
from tests.faults.watching.watch import Watch

HANG = 60.0
"""Seconds after which a command that has not ended is taken to hang, and killed."""

_MAKER = "[user]\nname = Mary Tailor\nemail = mary@example.org\n[init]\ndefaultBranch = main\n"
_CANNOT_TELL = "Cannot tell whether the step was recorded"
_ROOT = Path(__file__).parents[2]


@dataclass(frozen=True)
class Outcome:
    """How a command ended: its exit code (negative: the signal that killed it) and its words."""

    words: tuple[str, ...]
    code: int
    out: str
    err: str
    seconds: float
    hung: bool = False
    watch: Watch | None = None

    @property
    def calls(self) -> tuple[WritingCall, ...]:
        """The writing calls of all its processes, where they were watched."""
        return tuple(self.watch.calls) if self.watch else ()

    @property
    def hit(self) -> WritingCall | None:
        """The call at which the ordered fault befell it."""
        return self.watch.hit if self.watch else None

    @property
    def killed(self) -> bool:
        """Whether the command itself was killed."""
        return self.code == -SIGKILL

    @property
    def is_unclear(self) -> bool:
        """Whether it did not say what became of its step: it was killed, or could not tell."""
        return self.killed or _CANNOT_TELL in self.err

    @property
    def document(self) -> Any:
        """What it printed, read as JSON."""
        return json.loads(self.out)


class Workshop:
    """A folder to run commands in, with a home, a cache and a temporary folder of their own.

    What is to be kept apart from a case stands beside it: `templates`.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = Path(os.path.realpath(folder))
        self.case = self.folder / "case"
        self.templates = self.folder / "templates"
        self.templates.mkdir(parents=True, exist_ok=True)
        ours, theirs = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
        with theirs:
            self._server = subprocess.Popen(
                [sys.executable, "-m", "tests.faults.zygote", str(theirs.fileno())],
                cwd=_ROOT,
                env={**os.environ, "OPENBLAS_NUM_THREADS": "1", "PYTHONPATH": IMPORTS},
                pass_fds=[theirs.fileno()],
            )
        self._connection = ours

    @property
    def place(self) -> Path:
        """The folder commands are run in."""
        return self.case / "place"

    def close(self) -> None:
        """End the process that starts the commands."""
        self._connection.close()
        self._server.wait(HANG)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        traceback: TracebackType | None,
    ) -> None:
        self.close()

    def clear(self) -> None:
        """Make the case an empty folder, with a home for a maker of our own."""
        subprocess.run(["rm", "-rf", str(self.case)], check=True)
        for name in ("home", "cache", "tmp", "place"):
            (self.case / name).mkdir(parents=True)
        (self.case / "home" / ".gitconfig").write_text(_MAKER)

    def keep(self, name: str) -> None:
        """Keep the case as it stands as a template of this name."""
        self._copy(self.case, self.templates / name)

    def take(self, name: str) -> None:
        """Make the case what the template of this name is."""
        subprocess.run(["rm", "-rf", str(self.case)], check=True)
        self._copy(self.templates / name, self.case)

    @staticmethod
    def _copy(source: Path, target: Path) -> None:
        subprocess.run(["cp", "-a", str(source), str(target)], check=True)

    @property
    def environment(self) -> dict[str, str]:
        """What commands of the program and of git find in their environment."""
        return {
            "PATH": f"{os.path.dirname(shutil.which('git') or '')}:/usr/bin:/bin",
            "HOME": str(self.case / "home"),
            "XDG_CONFIG_HOME": str(self.case / "home"),
            "XDG_CACHE_HOME": str(self.case / "cache"),
            "TMPDIR": str(self.case / "tmp"),
            "GIT_CONFIG_NOSYSTEM": "1",
            # One hour for all of it, so that the same step gets the same id each time.
            "GIT_AUTHOR_DATE": "2025-03-01T12:00:00+0000",
            "COLUMNS": "100",
            "LC_ALL": "C.UTF-8",
        }

    def run(self, *words: str, order: Order | None = None, watched: Sequence[str] = ()) -> Outcome:
        """Run a command in `place`; `watched` are the folders of the case its calls count in.

        All its processes have ended when this returns, but those of a command whose git is to
        outlive it: wait for them with `Outcome.watch`.
        """
        out, err = (Path(tempfile.mktemp(dir=self.folder)) for _ in range(2))
        began = time.monotonic()
        self._connection.send(
            json.dumps(
                {
                    "words": words,
                    "folder": str(self.place),
                    "environment": self.environment,
                    "out": str(out),
                    "err": str(err),
                    "watched": bool(watched),
                }
            ).encode()
        )
        message, listeners, _, _ = socket.recv_fds(self._connection, 1 << 16, 1)
        answer = json.loads(message)
        if "cannot" in answer:
            self._status(answer["pid"])
            raise CannotFilter(answer["cannot"])
        watch = None
        if watched:
            roots = [str(self.case / each) for each in watched]
            watch = Watch(listeners[0], answer["pid"], roots, order)
        code, hung = self._status(answer["pid"])
        if watch is not None and not (order and order.mode.fault is Fault.ORPHAN):
            hung = not watch.ended(HANG) or hung
        seconds = time.monotonic() - began
        said = [file.read_text(errors="replace") for file in (out, err)]
        out.unlink()
        err.unlink()
        return Outcome(words, code, said[0], said[1], seconds, hung, watch)

    def _status(self, process: int) -> tuple[int, bool]:
        """Return how a command ended, and whether that took a kill of ours."""
        self._connection.settimeout(HANG)
        hung = False
        while True:
            try:
                return json.loads(self._connection.recv(1 << 16))["status"], hung
            except TimeoutError:
                hung = True
                with suppress(ProcessLookupError):
                    os.killpg(process, SIGKILL)
