"""Where nodes are evaluated beside one another: processes of this machine, or other machines.

Both are an executor as of `concurrent.futures`; a third kind only has to be one as well.
"""

import os
import signal
import sys
from collections.abc import Iterable
from concurrent.futures import CancelledError, Executor, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context, parent_process
from multiprocessing.connection import wait
from threading import Thread
from typing import Protocol


class Lanes(Protocol):
    """A place with workers: how many, and what starting them costs."""

    @property
    def workers(self) -> int:
        """Return how many nodes can be evaluated at a time."""

    @property
    def start_seconds(self) -> float:
        """Return about how long it takes until the workers work, s."""

    @property
    def lost(self) -> tuple[type[BaseException], ...]:
        """Return the errors which say that a worker died, or was sent home."""

    def executor(self) -> Executor:
        """Return what work is given to, started when first asked for."""

    def close(self) -> None:
        """Let the workers go; what they have not begun is given up."""


class Processes:
    """As many processes as this machine has cores, started when first asked for."""

    start_seconds = 0.1
    """Measured by tests/bench/bench_lanes.py for two workers, from the first task to its answer."""

    lost = (BrokenProcessPool, CancelledError)

    def __init__(self, workers: int | None = None) -> None:
        self.workers = workers or _cores()
        self._executor: ProcessPoolExecutor | None = None

    def executor(self) -> Executor:
        """Return the pool of processes."""
        if self._executor is None:
            # A fork has what this process has loaded; elsewhere it would not be safe.
            how = get_context("fork" if sys.platform == "linux" else "spawn")
            self._executor = ProcessPoolExecutor(self.workers, how, initializer=_begin_working)
        return self._executor

    def close(self) -> None:
        """Let the processes go."""
        if self._executor is not None:
            self._executor.shutdown(wait=False, cancel_futures=True)
            self._executor = None


def _cores() -> int:
    return len(os.sched_getaffinity(0)) if sys.platform == "linux" else os.cpu_count() or 1


def _begin_working() -> None:
    """Leave Ctrl-C to the process that was started, and end when it does, however it ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if (parent := parent_process()) is not None:
        Thread(target=_end_after, args=([parent.sentinel],), daemon=True).start()


def _end_after(sentinels: Iterable[int]) -> None:
    wait(list(sentinels))
    os._exit(1)
