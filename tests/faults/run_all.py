"""The whole of it: every writing command, every kind of fault, every writing call.

    python -m tests.faults.run_all                     all of it: many hours
    python -m tests.faults.run_all --once --alike 1    calls that are alike in one command for all
    python -m tests.faults.run_all --every 7           every 7th call of each mode
    python -m tests.faults.run_all --case style --mode kill --at 46
    python -m tests.faults.run_all --case style --calls   only list its writing calls
    python -m tests.faults.run_all --where cache        at the writing calls of the cache

Prints what is wrong as it is found, and counts in the end; exits with 1 when anything is.
"""

import argparse
import sys
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from multiprocessing import Process, Queue

from tests.faults.cases import CASES, Case, Writes
from tests.faults.harm.faults import Finding, Wrong
from tests.faults.trial import Trials, trials_in_memory
from tests.faults.watching.orders import MODES, Order

Met = set[tuple[str, tuple[str, ...]]]
"""Kinds of fault, each with what the calls it befell have in common."""


def orders(trials: Trials, case: Case, asked: argparse.Namespace, met: Met) -> Iterator[Order]:
    """Yield the orders to try a command with, modes in turn; `met` is what others were tried at."""
    for name in asked.mode or MODES:
        points = trials.points(case, MODES[name], asked.alike)
        if asked.once:
            points = [each for each in points if (name, trials.likeness(case, each)) not in met]
            met |= {(name, trials.likeness(case, each)) for each in points}
        chosen = [each for each in points if each in asked.at] if asked.at else points
        start = sum(map(ord, case.name + name)) % asked.every
        for at in chosen[0 if asked.at else start :: 1 if asked.at else asked.every]:
            yield Order(MODES[name], at)


def work(cases: Sequence[Case], asked: argparse.Namespace, results: "Queue[object]") -> None:
    """Try some commands and report each trial."""
    met: Met = set()
    try:
        with trials_in_memory(asked.where) as trials:
            for case in cases:
                for order in orders(trials, case, asked, met):
                    results.put((case.name, order.mode.name, trials.try_out(case, order)))
    finally:
        results.put(None)


def list_calls(cases: Sequence[Case], asked: argparse.Namespace) -> None:
    """Print the writing calls of commands."""
    with trials_in_memory(asked.where) as trials:
        for case in cases:
            print(case.name)
            for call in trials.undisturbed(case).outcome.calls:
                print("  ", call)


def parsed(words: Sequence[str] | None) -> argparse.Namespace:
    """Return what is asked for."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--case", action="append", choices=CASES, help="only this command")
    parser.add_argument("--mode", action="append", choices=MODES, help="only this kind of fault")
    parser.add_argument("--at", action="append", type=int, help="only at this writing call")
    parser.add_argument("--every", type=int, default=1, help="only every N-th writing call")
    parser.add_argument("--alike", type=int, help="only so many of calls that are alike")
    parser.add_argument(
        "--once", action="store_true", help="calls that are alike in one command for all"
    )
    parser.add_argument("--jobs", type=int, default=1, help="how many at a time")
    parser.add_argument(
        "--where", choices=("place", "cache", "tmp"), default="place", help="in which folder"
    )
    parser.add_argument("--calls", action="store_true", help="only list the writing calls")
    return parser.parse_args(words)


def main(words: Sequence[str] | None = None) -> int:
    """Run it and return the exit code."""
    asked = parsed(words)
    chosen = [CASES[name] for name in asked.case or CASES]
    # One that only reads writes nothing but its cache.
    is_tried = asked.where != "place"
    cases = [case for case in chosen if is_tried or case.writes is not Writes.NOTHING]
    if asked.calls:
        list_calls(cases, asked)
        return 0
    results: Queue[object] = Queue()
    workers = [
        Process(target=work, args=(cases[first :: asked.jobs], asked, results))
        for first in range(min(asked.jobs, len(cases)))
    ]
    for worker in workers:
        worker.start()
    return told(results, workers)


def told(results: "Queue[object]", workers: Sequence[Process]) -> int:
    """Print findings as they come, and the counts in the end."""
    began = time.monotonic()
    tried: Counter[str] = Counter()
    wrong: Counter[Wrong] = Counter()
    unreached, running = 0, len(workers)
    while running:
        match results.get():
            case None:
                running -= 1
            case (_, _, None):
                unreached += 1
            case (str(), str(mode), list(findings)):
                tried[mode] += 1
                if not tried.total() % 100:
                    print(f"{tried.total()} cases", file=sys.stderr, flush=True)
                for each in findings:
                    assert isinstance(each, Finding)
                    wrong[each.wrong] += 1
                    print(each, flush=True)
    for worker in workers:
        worker.join()
    if any(worker.exitcode for worker in workers):
        return 2
    counts = ", ".join(f"{count} {mode}" for mode, count in tried.items())
    minutes = (time.monotonic() - began) / 60
    print(f"{tried.total()} cases in {minutes:.0f} minutes: {counts}; {unreached} not reached")
    print(", ".join(f"{wrong[kind]} {kind.value}" for kind in Wrong))
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
