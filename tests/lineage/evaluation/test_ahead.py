"""Nodes evaluated beside one another: the same to the last bit, whatever becomes of the workers."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from concurrent.futures import Executor
from pathlib import Path
from typing import Any

import pytest

from tests.lineage.making import TODAY, block, change, child, state, step
from tests.refusals import refusing
from trueup.lineage.errors import BadRecord
from trueup.lineage.evaluation import ahead, chain
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.lanes import Processes
from trueup.lineage.evaluation.plain import to_bytes
from trueup.lineage.files.records import NodeRecord, ParentRecord, Role, StyleRecord, replace
from trueup.lineage.files.state import State
from trueup.lineage.replay import edits
from trueup.lineage.replay.replay import Cause, replay


class AtOnce(Processes):
    """Two processes that are used from the first node on that the workers can be timed by."""

    start_seconds = 0.0

    def __init__(self) -> None:
        super().__init__(2)
        self.started = 0

    def executor(self) -> Executor:
        self.started += 1
        return super().executor()


@pytest.fixture
def lanes() -> Iterator[AtOnce]:
    lanes = AtOnce()
    yield lanes
    lanes.close()


def a_tree() -> State:
    """Three generations: looser blocks, their patterns, one of two, grafts with bound amounts."""
    names = [f"dress-{n}" for n in range(14)]
    lower, bound = step("g", "lower-armhole", by="6mm"), {"by": "bust/100"}
    return state(
        block(),
        child("loose", step("a1", "add-ease", by="20mm")),
        child("longer", step("b1", "lengthen", by="30mm")),
        *(
            child(
                name,
                step(f"s{n}", "lower-neck", piece="front", by=f"{5 + n}mm"),
                step(f"t{n}", "shorten-shoulder", by="140mm" if n == 5 else "4mm"),
                of="loose" if n % 2 else "longer",
            )
            for n, name in enumerate(names)
        ),
        child(
            "mixed",
            step("m1", "lower-armhole", by="6mm"),
            of=(
                ParentRecord("loose", pieces=("front", "back")),
                ParentRecord("longer", pieces=("sleeve",)),
            ),
        ),
        block("ada", step("d1", "slope-shoulder", Role.CORRECTION, by="4mm")),
        replace(child("mixed-graft", of="ada"), style=StyleRecord("mixed")),
        *(
            replace(
                child(f"graft-{n}", replace(lower, id=f"g{n}", values=bound), of="ada"),
                style=StyleRecord(name),
            )
            for n, name in enumerate(names)
        ),
        *(child(f"under-{n}", step(f"u{n}", "lengthen", by="12mm"), of=names[n]) for n in range(6)),
    )


def evaluated(wardrobe: State, lanes: Processes | None) -> dict[str, tuple[bytes, bytes]]:
    evaluator = Evaluator(wardrobe, lanes=lanes)
    return {
        name: (to_bytes(evaluator.summary(name)), to_bytes(evaluator.draft(name)))
        for name in evaluator.announced(wardrobe.in_order)
    }


def test_workers_find_what_is_found_without_them_to_the_last_bit(lanes: AtOnce):
    assert evaluated(a_tree(), lanes) == evaluated(a_tree(), None)
    assert lanes.started


def test_what_is_evaluated_is_told_in_the_same_order(lanes: AtOnce):
    with_lanes, without = Evaluator(a_tree(), lanes=lanes), Evaluator(a_tree())
    for evaluator in (with_lanes, without):
        for name in evaluator.announced(evaluator.state.in_order):
            evaluator.summary(name)
    assert with_lanes.ran == without.ran


def test_what_is_announced_again_is_not_told_to_have_run_again(lanes: AtOnce):
    evaluator = Evaluator(a_tree(), lanes=lanes)
    for _ in range(2):
        for name in evaluator.announced(evaluator.state.in_order):
            evaluator.summary(name)
    assert lanes.started
    assert len(evaluator.ran) == len({*evaluator.ran})


def test_all_below_a_block_known_before_is_left_to_workers_once_they_are_timed(
    lanes: AtOnce, monkeypatch: pytest.MonkeyPatch
):
    wardrobe = state(
        block(),
        *(child(f"loose-{n}", step(f"a{n}", "add-ease", by=f"{20 + n}mm")) for n in range(12)),
        *(
            child(f"under-{n}", step(f"u{n}", "lengthen", by="12mm"), of=f"loose-{n % 12}")
            for n in range(60)
        ),
    )
    evaluator = Evaluator(wardrobe, lanes=lanes)
    evaluator.summary("village")
    here: list[str] = []

    def counted(node: NodeRecord, *of: Any) -> Any:
        here.append(node.name)
        return chain.worked_out(node, *of)

    monkeypatch.setattr(ahead, "worked_out", counted)
    for name in evaluator.announced(wardrobe.in_order):
        evaluator.summary(name)
    assert len(here) == ahead._FEWEST_TIMED


def test_workers_that_die_cost_nothing_but_time(lanes: AtOnce, monkeypatch: pytest.MonkeyPatch):
    if sys.platform != "linux":
        pytest.skip("a worker that is not forked does not know what a test changed")
    monkeypatch.setattr(ahead, "answers", _die)
    assert evaluated(a_tree(), lanes) == evaluated(a_tree(), None)
    assert lanes.started


def _die(*_work: object) -> None:
    os._exit(3)


def test_what_nothing_can_be_started_from_is_refused_when_it_is_asked_for(lanes: AtOnce):
    twice = child("twice", of=(ParentRecord("loose"), ParentRecord("longer")))
    wardrobe = a_tree().with_nodes([twice])
    evaluator = Evaluator(wardrobe, lanes=lanes)
    for name in evaluator.announced(wardrobe.in_order):
        if name == "twice":
            with refusing(BadRecord, match="the piece back comes from two parents"):
                evaluator.summary(name)
        else:
            evaluator.summary(name)


def test_it_is_told_how_many_are_done_of_how_many():
    told: list[tuple[int, int]] = []
    wardrobe = a_tree()
    evaluator = Evaluator(wardrobe, progress=lambda done, of: told.append((done, of)))
    for name in evaluator.announced(wardrobe.in_order):
        evaluator.summary(name)
    assert told == [(done, len(wardrobe.nodes)) for done in range(len(wardrobe.nodes))]


def test_few_nodes_are_evaluated_without_starting_anything():
    class Unwanted(Processes):
        def executor(self) -> Executor:
            raise AssertionError("a worker is started for next to nothing")

    wardrobe = state(block(), *(child(f"dress-{n}") for n in range(5)))
    evaluated(wardrobe, Unwanted(2))


def test_what_was_evaluated_before_is_not_sent_again(lanes: AtOnce):
    wardrobe = a_tree()
    evaluator = Evaluator(wardrobe, lanes=lanes)
    for name in wardrobe.in_order:
        evaluator.summary(name)
    ran = len(evaluator.ran)
    for name in evaluator.announced(wardrobe.in_order):
        evaluator.summary(name)
    assert (len(evaluator.ran), lanes.started) == (ran, 0)


def test_a_replay_looks_ahead_in_what_was_as_well(lanes: AtOnce):
    was = a_tree()
    change_of_block = change("shorten-shoulder", by="3mm")
    edit = edits.add_steps(was, "0" * 40, "village", [change_of_block], Role.CORRECTION, "", TODAY)
    cause, now = Cause(edit.node, edit.steps, "0" * 40), was.with_nodes(edit.nodes)
    alone = replay(Evaluator(was), Evaluator(now), cause)
    assert replay(Evaluator(was, lanes=lanes), Evaluator(now), cause) == alone
    assert lanes.started


WORKING = """
import os, sys, time
from concurrent.futures import wait
from trueup.lineage.evaluation.lanes import Processes

lanes = Processes(2)
print(*{lanes.executor().submit(os.getpid).result() for _ in range(8)}, flush=True)
if __name__ == "__main__":
    wait([lanes.executor().submit(time.sleep, 60) for _ in range(2)])
"""


@pytest.mark.parametrize("ending", [signal.SIGKILL, signal.SIGINT, signal.SIGTERM])
def test_no_worker_outlives_the_process_that_started_it(ending: signal.Signals, tmp_path: Path):
    if sys.platform != "linux":
        pytest.skip("processes are looked up in /proc")
    script = tmp_path / "working.py"
    script.write_text(WORKING)
    started = subprocess.Popen(
        [sys.executable, script], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    )
    assert started.stdout is not None
    workers = [int(each) for each in started.stdout.readline().split()]
    assert workers
    started.send_signal(ending)
    if ending == signal.SIGINT:  # as a terminal does, which tells all of them
        for each in workers:
            os.kill(each, ending)
        started.kill()
    started.wait()
    started.stdout.close()
    assert _gone(workers)


def _gone(processes: list[int]) -> bool:
    for _ in range(600):
        if not any(Path(f"/proc/{each}/stat").exists() and _runs(each) for each in processes):
            return True
        time.sleep(0.05)
    return False


def _runs(process: int) -> bool:
    try:
        return Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False
