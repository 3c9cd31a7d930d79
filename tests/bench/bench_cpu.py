"""How much work a block correction is, a pattern: CPU and memory, beside an earlier checkout.

    python tests/bench/bench_cpu.py [--baseline FOLDER] [SIZE ...]

For each size it builds the wardrobe of `bench_replay` and corrects its block on one core, each time
in a process of its own, in this checkout and in the one at FOLDER in turn:

    whole     front and back change: every piece of every pattern is drawn anew
    front     only the front does

It prints CPU a pattern (ms, the median of the rounds), the ratio to the baseline, and the most
memory the process took; it asserts nothing. What is timed runs under the name the folders have as
a package, or as they lie in a checkout from before there was one.
"""

import argparse
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from statistics import median

from rich.console import Console
from rich.table import Table

KINDS = {"whole": ("shorten-shoulder", "3"), "front": ("scoop-armhole", "3")}
HERE = Path(__file__).parents[2]

WORK = """
import json, os, resource, sys, tempfile
from pathlib import Path
import bench_replay as bench

size, kind, by = int(sys.argv[1]), sys.argv[2], sys.argv[3]
alone = [bench.Processes(1)] if hasattr(bench, "Processes") else []
with tempfile.TemporaryDirectory() as place:
    os.environ["TRUEUP_CACHE"] = os.environ["XDG_CACHE_HOME"] = place
    folder = Path(place) / "wardrobe"
    bench.build_wardrobe(folder, size)
    bench.correct(folder, bench.BLOCK, "shorten-shoulder", "2", bench.Role.CORRECTION, *alone)
    before = os.times()
    bench.correct(folder, bench.BLOCK, kind, by, bench.Role.CORRECTION, *alone)
    after = os.times()
used = sum(after[:4]) - sum(before[:4])
memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
print(json.dumps([1000 * used / size, memory]))
"""


def measured(checkout: Path, size: int, kind: str, by: str) -> tuple[float, float]:
    """Return CPU a pattern, ms, and the most memory, MiB, of one correction in a checkout."""
    imports = [checkout / ".ci/import", checkout, checkout / "tests/bench"]
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(map(str, imports))}
    with tempfile.TemporaryDirectory() as nowhere:
        done = subprocess.run(
            [sys.executable, "-c", WORK, str(size), kind, by],
            env=environment, cwd=nowhere, check=True, capture_output=True, text=True,
        )  # fmt: skip
    cpu, memory = json.loads(done.stdout.splitlines()[-1])
    return cpu, memory


def rows(baseline: Path | None, sizes: list[int], rounds: int) -> Iterator[tuple[str, ...]]:
    """Yield a row for each size and correction."""
    for size in sizes:
        for name, (kind, by) in KINDS.items():
            here: list[tuple[float, float]] = []
            there: list[float] = []
            for _ in range(rounds):
                here.append(measured(HERE, size, kind, by))
                if baseline:
                    there.append(measured(baseline, size, kind, by)[0])
            cpu = median(each[0] for each in here)
            memory = max(each[1] for each in here)
            beside = (f"{median(there):.1f}", f"{cpu / median(there):.2f}") if there else ("-", "-")
            yield f"{size}, {name}", f"{cpu:.1f}", *beside, f"{memory:.0f}"


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("sizes", type=int, nargs="*", default=[200])
    parser.add_argument("--baseline", type=Path)
    parser.add_argument("--rounds", type=int, default=3)
    asked = parser.parse_args()
    table = Table("patterns", "CPU a pattern, ms", "baseline, ms", "ratio", "memory, MiB")
    baseline = asked.baseline.resolve() if asked.baseline else None
    for row in rows(baseline, asked.sizes or [200], asked.rounds):
        table.add_row(*row)
    Console().print(table)


if __name__ == "__main__":
    main()
