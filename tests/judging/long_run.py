"""Try many random fittings and print every verdict that is not so, and the figures.

.venv/bin/python -m tests.judging.long_run 2000 [FIRST-SEED] [--wider]
.venv/bin/python -m tests.judging.long_run 2000 --remedies     # every remedy offered, taken
"""

import argparse
from collections import Counter
from collections.abc import Callable

from tests.judging.remedying import remedied
from tests.judging.trying import Trial, tried, tried_widely


def main(tries: Callable[[int], Trial], count: int, first: int) -> None:
    verdicts, sorts = 0, Counter[str]()
    for seed in range(first, first + count):
        trial = tries(seed)
        verdicts += trial.verdicts
        for fault in trial.faults:
            sorts[fault.sort] += 1
            print(f"seed {fault.seed}, {fault.node}: {fault.sort}: {fault.tells}", flush=True)
    print(f"{count} cases, {verdicts} verdicts, {sum(sorts.values())} not so: {dict(sorts)}")


def take_remedies(count: int, first: int) -> None:
    counted, faults = Counter[str](), 0
    for seed in range(first, first + count):
        found = remedied(seed)
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
    words.add_argument("--wider", action="store_true")
    words.add_argument("--remedies", action="store_true")
    given = words.parse_args()
    if given.remedies:
        take_remedies(given.count, given.first)
        raise SystemExit
    main(tried_widely if given.wider else tried, given.count, given.first)
