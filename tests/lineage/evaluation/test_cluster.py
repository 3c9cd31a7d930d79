"""Nodes evaluated by a real scheduler and its workers, each a process on this machine."""

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pytest

from tests.lineage.evaluation.test_ahead import a_tree, evaluated
from trueup.lineage.evaluation.cluster import Cluster
from trueup.lineage.evaluation.errors import NoCluster

RUNNING = """
import sys
from distributed import LocalCluster
if __name__ == "__main__":
    cluster = LocalCluster(
        n_workers=int(sys.argv[1]), threads_per_worker=1, host="127.0.0.1", dashboard_address=None
    )
    print(cluster.scheduler_address, *(w.pid for w in cluster.workers.values()), flush=True)
    sys.stdin.read()
"""


@dataclass(frozen=True)
class Running:
    address: str
    workers: tuple[int, ...]


def running(count: int) -> Iterator[Running]:
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    started: Any = subprocess.Popen(
        [sys.executable, "-c", RUNNING, str(count)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
        env=environment,
    )
    try:
        address, *workers = started.stdout.readline().split()
        yield Running(address, tuple(map(int, workers)))
    finally:
        started.communicate("", timeout=60)


@pytest.fixture
def two_workers() -> Iterator[Running]:
    yield from running(2)


@pytest.fixture
def none_at_work() -> Iterator[Running]:
    yield from running(0)


def test_a_cluster_finds_what_is_found_without_it_to_the_last_bit(two_workers: Running):
    cluster = Cluster(two_workers.address)
    assert cluster.workers == 2
    asked = _counted(cluster)
    try:
        assert evaluated(a_tree(), cluster) == evaluated(a_tree(), None)
    finally:
        cluster.close()
    assert asked


def test_a_worker_that_dies_loses_nothing(two_workers: Running):
    cluster = Cluster(two_workers.address)
    asked = _counted(cluster, lambda: os.kill(two_workers.workers[0], signal.SIGKILL))
    try:
        assert evaluated(a_tree(), cluster) == evaluated(a_tree(), None)
    finally:
        cluster.close()
    assert asked


def test_a_scheduler_that_is_not_there_is_told_in_one_sentence(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("trueup.lineage.evaluation.cluster._PATIENCE", "1s")
    with pytest.raises(NoCluster, match="no scheduler answers there; start one with"):
        Cluster("tcp://127.0.0.1:1")
    with pytest.raises(NoCluster, match="no scheduler answers there"):
        Cluster("no address at all")


def test_so_is_one_without_workers(none_at_work: Running):
    with pytest.raises(NoCluster, match="it has no workers; start some with"):
        Cluster(none_at_work.address)


def test_and_workers_that_run_another_program(
    two_workers: Running, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr("trueup.lineage.evaluation.cluster.program", _another_program)
    with pytest.raises(NoCluster, match="its workers run another version of trueup"):
        Cluster(two_workers.address)


def _another_program() -> bytes:
    return os.urandom(32)


def _counted(cluster: Cluster, do: Any = lambda: None) -> list[int]:
    """Return a list that grows each time the cluster is given something; the first time `do` it."""
    asked: list[int] = []
    executor = cluster.executor()

    def give() -> Any:
        if not asked:
            do()
        asked.append(len(asked))
        return executor

    cluster.executor = give  # type: ignore[method-assign]
    return asked
