"""Try many random fittings and print every verdict that is not so, and the figures.

.venv/bin/python -m tests.judging.long_run 2000 [FIRST-SEED]
.venv/bin/python -m tests.judging.long_run 2000 --wider    # holds, several parents, later changes
.venv/bin/python -m tests.judging.long_run 2000 --doubled  # with the same correction of their own
.venv/bin/python -m tests.judging.long_run 2000 --holds    # told to stay, and to follow again
.venv/bin/python -m tests.judging.long_run 2000 --cloth    # cut before the fitting
.venv/bin/python -m tests.judging.long_run 2000 --sides    # made on one side of the body
.venv/bin/python -m tests.judging.long_run 2000 --cuts     # of pieces that are cut apart
.venv/bin/python -m tests.judging.long_run 2000 --remedies     # every remedy offered, taken
"""

import argparse
from collections import Counter
from collections.abc import Callable

from tests.judging.by_side import case_by_side, tried_by_side
from tests.judging.cut_apart import tried_cut_apart
from tests.judging.doubling import tried_doubled
from tests.judging.holding import tried_holding
from tests.judging.on_cloth import tried_on_cloth
from tests.judging.random_wardrobes import Case, case
from tests.judging.remedying import remedied
from tests.judging.trying import Trial, tried, tried_widely

TRIES: dict[str, Callable[[int], Trial]] = {
    "wider": tried_widely,
    "doubled": tried_doubled,
    "holds": tried_holding,
    "cloth": tried_on_cloth,
    "sides": tried_by_side,
    "cuts": tried_cut_apart,
}


def main(tries: Callable[[int], Trial], count: int, first: int) -> None:
    verdicts, sorts = 0, Counter[str]()
    for seed in range(first, first + count):
        trial = tries(seed)
        verdicts += trial.verdicts
        for fault in trial.faults:
            sorts[fault.sort] += 1
            print(f"seed {fault.seed}, {fault.node}: {fault.sort}: {fault.tells}", flush=True)
    print(f"{count} cases, {verdicts} verdicts, {sum(sorts.values())} not so: {dict(sorts)}")


def take_remedies(count: int, first: int, made: Callable[[int], Case]) -> None:
    counted, faults = Counter[str](), 0
    for seed in range(first, first + count):
        found = remedied(seed, made)
        counted += found.first
        faults += len(found.faults)
        for fault in found.faults:
            print(fault, flush=True)
    total = counted.total()
    print(
        f"{count} cases, {faults} remedies not so; of {total} seam conflicts the first: {counted}"
    )


if __name__ == "__main__":
    words = argparse.ArgumentParser()
    words.add_argument("count", type=int)
    words.add_argument("first", type=int, nargs="?", default=0)
    for name in (*TRIES, "remedies"):
        words.add_argument(f"--{name}", action="store_true")
    given = words.parse_args()
    if given.remedies:
        take_remedies(given.count, given.first, case_by_side if given.sides else case)
        raise SystemExit
    chosen = next((TRIES[name] for name in TRIES if getattr(given, name)), tried)
    main(chosen, given.count, given.first)
