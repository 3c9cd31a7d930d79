"""What it costs to hand work to others: processes of this machine, and workers of a Dask scheduler.

    python tests/bench/bench_lanes.py [SIZE]

It times, each beside evaluating the same patterns here, one after another:

    start      from the first task to its answer, that is until the workers work
    task       handing over a task of nothing, and its answer
    batch      a wardrobe of so many patterns (`bench_replay`) corrected by two processes
    cluster    the same by two workers of a Dask scheduler on this machine (extra `cluster`)

It prints times and ratios; it asserts nothing.
"""

import argparse
import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from bench_replay import BLOCK, build_wardrobe, correct, timed
from rich.console import Console
from rich.table import Table

from trueup.lineage.evaluation.lanes import Lanes, Processes
from trueup.lineage.files.records import Role

_TASKS = 2_000
_WORKERS = 2


@contextmanager
def cluster() -> Iterator[str]:
    """Run a scheduler and two workers on loopback; yields its address."""
    from distributed import LocalCluster  # noqa: PLC0415

    settings = {"n_workers": _WORKERS, "threads_per_worker": 1, "dashboard_address": None}
    with LocalCluster(host="127.0.0.1", **settings) as running:
        yield running.scheduler_address


def costs(lanes: Lanes) -> tuple[float, float]:
    """Return the seconds until workers work, and those a task of nothing takes."""
    start = timed(lambda: lanes.executor().submit(abs, 1).result())
    tasks = timed(lambda: [each.result() for each in lanes.executor().map(_later, range(_TASKS))])
    return start, tasks / _TASKS


class _Result:
    def result(self) -> None:
        """Return nothing."""


def _later(_: int) -> _Result:
    return _Result()


def corrected(size: int, lanes: Lanes, by: str) -> float:
    """Return the seconds that correcting the block of a new wardrobe takes, recorded."""
    with tempfile.TemporaryDirectory() as place:
        os.environ["TRUEUP_CACHE"] = place
        folder = Path(place) / "wardrobe"
        build_wardrobe(folder, size)
        return timed(lambda: correct(folder, BLOCK, "shorten-shoulder", by, Role.CORRECTION, lanes))


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("size", type=int, nargs="?", default=300)
    size = parser.parse_args().size
    alone = corrected(size, Processes(1), "2")
    table = Table("", "start, s", "task, ms", f"{size} patterns, s", "against one core")
    table.add_row("one core", "-", "-", f"{alone:.1f}", "1")
    processes = Processes(_WORKERS)
    start, task = costs(processes)
    seconds = corrected(size, processes, "2")
    processes.close()
    row = (f"{start:.2f}", f"{task * 1e3:.2f}", f"{seconds:.1f}", f"{alone / seconds:.2f}")
    table.add_row("two processes", *row)
    try:
        from trueup.lineage.evaluation.cluster import Cluster  # noqa: PLC0415

        with cluster() as address:
            lanes = Cluster(address)
            start, task = costs(lanes)
            there = corrected(size, lanes, "2")
            lanes.close()
    except ImportError:
        Console().print("Without Dask (extra `cluster`) its workers are not timed.")
    else:
        row = (f"{start:.2f}", f"{task * 1e3:.2f}", f"{there:.1f}", f"{alone / there:.2f}")
        table.add_row("two Dask workers", *row)
        Console().print(f"Two Dask workers take {there / seconds:.2f} x the time of two processes.")
    Console().print(table)


if __name__ == "__main__":
    main()
