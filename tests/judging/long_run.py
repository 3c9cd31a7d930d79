"""Try many random fittings and print every verdict that is not so, and the figures.

.venv/bin/python -m tests.judging.long_run 2000 [FIRST-SEED]
"""

import sys
from collections import Counter

from tests.judging.trying import tried


def main(count: int, first: int) -> None:
    verdicts, sorts = 0, Counter[str]()
    for seed in range(first, first + count):
        trial = tried(seed)
        verdicts += trial.verdicts
        for fault in trial.faults:
            sorts[fault.sort] += 1
            print(f"seed {fault.seed}, {fault.node}: {fault.sort}: {fault.tells}", flush=True)
    print(f"{count} cases, {verdicts} verdicts, {sum(sorts.values())} not so: {dict(sorts)}")


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 0)
