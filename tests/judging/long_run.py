"""Try many random fittings; print every verdict that is not so, and what first remedies leave open.

.venv/bin/python -m tests.judging.long_run 2000 [FIRST-SEED] [--wider]
"""

import argparse
from collections import Counter
from collections.abc import Callable

from tests.judging.random_wardrobes import Case, case
from tests.judging.remedied import Cured, cured
from tests.judging.trying import Trial, tried, tried_widely
from tests.judging.wider_wardrobes import wider_case


def main(
    tries: Callable[[int], Trial], case_of: Callable[[int], Case], count: int, first: int
) -> None:
    verdicts, sorts, cures = 0, Counter[str](), Cured()
    for seed in range(first, first + count):
        trial = tries(seed)
        verdicts += trial.verdicts
        for fault in trial.faults:
            sorts[fault.sort] += 1
            print(f"seed {fault.seed}, {fault.node}: {fault.sort}: {fault.tells}", flush=True)
        cures.add(cured(seed, case_of(seed)))
    print(f"{count} cases, {verdicts} verdicts, {sum(sorts.values())} not so: {dict(sorts)}")
    print("\n".join(cures.left))
    share = cures.settled / cures.met if cures.met else 1.0
    print(
        f"{cures.met} seams in conflict: the first remedy settles {cures.settled} ({share:.1%}), "
        f"and leaves {cures.clean} clean; first were {dict(cures.by_remedy)}"
    )


if __name__ == "__main__":
    words = argparse.ArgumentParser()
    words.add_argument("count", type=int)
    words.add_argument("first", type=int, nargs="?", default=0)
    words.add_argument("--wider", action="store_true")
    given = words.parse_args()
    tries, case_of = (tried_widely, wider_case) if given.wider else (tried, case)
    main(tries, case_of, given.count, given.first)
