"""Where nodes are evaluated beside one another: processes of this machine, or other machines.

Both are an executor as of `concurrent.futures`; a third kind only has to be one as well.
"""

import os
import sys
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from concurrent.futures import Executor


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

    def executor(self) -> "Executor":
        """Return what work is given to, started when first asked for."""

    def close(self) -> None:
        """Let the workers go; what they have not begun is given up."""

    def give_up(self) -> None:
        """Let the workers go, and have none from here on."""


class Processes:
    """As many processes as this machine has cores, started when first asked for."""

    start_seconds = 0.1
    """Measured by tests/bench/bench_lanes.py for two workers, from the first task to its answer."""

    def __init__(self, workers: int | None = None) -> None:
        self.workers = workers or cores()
        self._executor: Executor | None = None

    @property
    def lost(self) -> tuple[type[BaseException], ...]:
        """Return the errors which say that a process died, or was sent home."""
        from trueup.lineage.evaluation import pool  # noqa: PLC0415  (see `executor`)

        return pool.LOST

    def executor(self) -> "Executor":
        """Return the pool of processes."""
        if self._executor is None:
            # Most commands need no pool, and loading it takes a tenth of what they do.
            from trueup.lineage.evaluation import pool  # noqa: PLC0415

            self._executor = pool.started(self.workers)
        return self._executor

    def close(self) -> None:
        """Let the processes go, and see them gone.

        Python would wait for them when it ends, and may then speak to one that is just leaving: it
        prints the error that comes of it.
        """
        if self._executor is not None:
            self._executor.shutdown(cancel_futures=True)
            self._executor = None

    def give_up(self) -> None:
        """Let the processes go, and start none from here on."""
        self.close()
        self.workers = 1


def cores() -> int:
    """Return how many processes this machine has room for at a time."""
    return len(os.sched_getaffinity(0)) if sys.platform == "linux" else os.cpu_count() or 1
