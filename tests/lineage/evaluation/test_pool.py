"""A pool of processes: started whole, or not at all."""

import subprocess
import sys

import pytest

STOPPED_AS_IT_STARTS = """
import os, signal
from concurrent.futures import ProcessPoolExecutor
from trueup.lineage.evaluation import pool

os.register_at_fork(before=lambda: os.kill(os.getpid(), signal.SIGINT))
try:
    pool.started(2)
except KeyboardInterrupt:
    print("stopped")
"""


@pytest.mark.skipif(not hasattr(sys, "getdlopenflags"), reason="needs fork")
def test_stopped_as_it_starts_it_is_not_forgotten() -> None:
    done = subprocess.run(
        [sys.executable, "-c", STOPPED_AS_IT_STARTS],
        capture_output=True, text=True, check=False, timeout=120,
    )  # fmt: skip
    assert (done.returncode, done.stdout, done.stderr) == (0, "stopped\n", "")


LEFT_AT_THE_END = """
import time
from concurrent.futures import process
from trueup.lineage.evaluation.lanes import Processes

def wakeup(self):
    if not self._closed:
        time.sleep(0.5)  # in which it may be closed
        self._writer.send_bytes(b"")

lanes = Processes(2)
assert list(lanes.executor().map(abs, range(-3, 0))) == [3, 2, 1]
process._ThreadWakeup.wakeup = wakeup
lanes.close()
"""


def test_let_go_it_leaves_nothing_to_go_wrong_at_the_end() -> None:
    done = subprocess.run(
        [sys.executable, "-c", LEFT_AT_THE_END],
        capture_output=True, text=True, check=False, timeout=120,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")
