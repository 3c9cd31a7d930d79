"""A correction that many processes work on, stopped from the keyboard."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.bench.bench_replay import BLOCK, build_wardrobe
from tests.checkout import IMPORTS

MANY = 300
PATIENCE = 3_000  # twentieths of a second


def children(process: int) -> set[int]:
    """Return the processes that a process started and that live."""
    try:
        threads = list(Path(f"/proc/{process}/task").iterdir())
        found = [(thread / "children").read_text().split() for thread in threads]
    except OSError:
        return set()
    return {int(each) for thread in found for each in thread}


def lives(process: int) -> bool:
    try:
        state = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"


@pytest.mark.skipif(sys.platform != "linux", reason="processes are looked up in /proc")
@pytest.mark.skipif((os.cpu_count() or 1) < 2, reason="one core is worked on alone")
def test_stopped_while_others_work_it_ends_them_all_and_records_nothing(tmp_path: Path) -> None:
    store = tmp_path / "store"
    build_wardrobe(store, MANY)
    environment = {
        **os.environ,
        "PYTHONPATH": IMPORTS,
        "TRUEUP_CACHE": str(tmp_path / "cache"),
    }
    words = ("correct", BLOCK, "shorten-shoulder", "--by", "2mm", "-C", str(store))
    before = (store / ".git/refs/heads/main").read_text()
    running = subprocess.Popen(
        [sys.executable, "-m", "trueup.cli", *words],
        env=environment, start_new_session=True, text=True,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip
    workers: set[int] = set()
    for _ in range(PATIENCE):
        workers |= {each for each in children(running.pid) if is_worker(each)}
        if len(workers) >= 2 or running.poll() is not None:
            break
        time.sleep(0.05)
    assert len(workers) >= 2, "it ended before others worked"
    os.killpg(running.pid, signal.SIGINT)  # as a terminal does
    out, err = running.communicate(timeout=120)
    assert running.returncode == 130
    assert out == ""
    assert err.splitlines()[-1].startswith("Stopped")
    for _ in range(PATIENCE):
        if not any(map(lives, workers)):
            break
        time.sleep(0.05)
    assert not any(map(lives, workers))
    assert (store / ".git/refs/heads/main").read_text() == before
    status = subprocess.run(
        ["git", "-C", str(store), "status", "--porcelain"], capture_output=True, check=True
    )
    assert status.stdout == b""


def is_worker(process: int) -> bool:
    """Return whether a process is this program again, and no git."""
    try:
        return b"trueup" in Path(f"/proc/{process}/cmdline").read_bytes()
    except OSError:
        return False
