"""A pool of processes on this machine. What it takes is loaded only where a pool is started."""

import os
import signal
import sys
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import CancelledError, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from multiprocessing import active_children, get_context, parent_process
from multiprocessing.connection import wait
from threading import Thread

from trueup.lineage.evaluation.collecting import collect_seldom

FORKS = sys.platform == "linux"
"""Whether a worker has what the process that starts it has loaded and found.

Elsewhere a fork would not be safe, and a worker begins with nothing.
"""

LOST = (BrokenProcessPool, CancelledError)
"""The errors which say that a process died, or was sent home."""


def started(workers: int, begin: Callable[[], object] | None = None) -> ProcessPoolExecutor:
    """Return a pool of so many processes, each of which calls `begin` first."""
    how = get_context("fork" if FORKS else "spawn")
    pool = ProcessPoolExecutor(workers, how, initializer=_begin_working, initargs=(begin,))
    try:
        with _uninterrupted():
            pool.submit(int)  # which starts them
    except BaseException:
        pool.shutdown(cancel_futures=True)
        raise
    return pool


@contextmanager
def at_work(workers: int, begin: Callable[[], object]) -> Iterator[ProcessPoolExecutor]:
    """Yield a pool of so many processes that is gone in the end, in the middle of its work too."""
    others = {*active_children()}
    pool = started(workers, begin)
    own = {*active_children()} - others
    try:
        yield pool
    finally:
        for each in own:
            each.kill()
        pool.shutdown(wait=False, cancel_futures=True)


@contextmanager
def _uninterrupted() -> Iterator[None]:
    """Hold Ctrl-C back: in the moment of a fork Python drops it, or the new process takes it."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _begin_working(begin: Callable[[], object] | None) -> None:
    """Leave Ctrl-C to the process that was started, and end when it does, however it ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    collect_seldom()
    if (parent := parent_process()) is not None:
        Thread(target=_end_after, args=([parent.sentinel],), daemon=True).start()
    if begin is not None:
        begin()


def _end_after(sentinels: Iterable[int]) -> None:
    wait(list(sentinels))
    os._exit(1)
