"""How quick the program has to be, and is: every target with what was measured, in one table.

    python tests/bench/bench_targets.py [--size 1000] [--large 10000] [--baseline FOLDER] [ROW ...]

Each row stands beside a baseline measured in the same run: an earlier checkout (at FOLDER), one
core, git itself, `python -c "import typer"`. The wardrobes are those of `bench_replay`. ROW picks
rows by a word of their names. CPU is that of whole commands with all they start.

It prints ratios; it asserts nothing.
"""

import argparse
import os
import resource
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from statistics import median

from bench_cpu import HERE, KINDS, measured
from bench_lanes import cluster, corrected
from bench_replay import (
    BLOCK,
    build_branches,
    build_wardrobe,
    correct,
    name_of,
    pattern_file,
    rebase_all,
)
from bench_verbs import Side
from rich.console import Console
from rich.table import Table

from trueup.lineage.evaluation.lanes import Processes
from trueup.lineage.files.records import Role

_COMMITS = 5_000
_ROUNDS = 7
_READING = (("tree",), ("check", name_of(3)), ("conflicts",), ("history",), ("garments",), ())


@dataclass(frozen=True)
class Row:
    """A figure with the target it should reach; `at_least` where more is better."""

    measured: float
    target: float
    at_least: bool = False

    def cells(self) -> tuple[str, str, str]:
        """Return what was measured, the target, and whether it is reached, as text."""
        reached = self.measured >= self.target if self.at_least else self.measured <= self.target
        bound = "at least" if self.at_least else "at most"
        return f"{self.measured:.2f}", f"{bound} {self.target:g}", "yes" if reached else "no"


class Bench:
    """The rows, and the wardrobes that several of them share, in a folder that is thrown away."""

    def __init__(self, place: Path, size: int, large: int, baseline: Path | None) -> None:
        """Take where to work, how many patterns a wardrobe has, and the earlier checkout."""
        self.place, self.size, self.large, self.baseline = place, size, large, baseline

    def rows(self) -> Iterator[tuple[str, Callable[[], Row]]]:
        """Yield every row's name with what measures it."""
        if self.baseline:
            yield "CPU a pattern, whole / earlier", lambda: self._cpu("whole", 1 / 3)
            yield "CPU a pattern, front only / earlier", lambda: self._cpu("front", 1 / 4)
        yield f"one core / two cores, {self.size}", self._cores
        yield f"git rebase / correction, {self.size}", self._rebase
        yield f"time({self.large}) / time({self.size})", self._growth
        yield f"memory at {self.large}, GiB", self._memory
        yield "slowest reading verb / import typer, 100", self._reading
        yield "--help / import typer", self._help
        yield f"nothing changed / git status, {self.large}", self._unchanged
        yield f"a leaf's step / git status, {self.large}", self._leaf
        yield f"history / git log -- path, {_COMMITS} commits", self._history
        yield f"two Dask workers / two processes, {self.size}", self._dask

    def _cpu(self, name: str, target: float) -> Row:
        assert self.baseline
        there = self.baseline.resolve()
        pairs = [(measured(HERE, 200, *KINDS[name])[0], measured(there, 200, *KINDS[name])[0])
                 for _ in range(3)]  # fmt: skip
        return Row(median(here / then for here, then in pairs), target)

    @cached_property
    def _alone(self) -> float:
        return corrected(self.size, Processes(1), "2")

    @cached_property
    def _together(self) -> float:
        lanes = Processes(2)
        try:
            return corrected(self.size, lanes, "2")
        finally:
            lanes.close()

    def _cores(self) -> Row:
        return Row(self._alone / self._together, 1.7, at_least=True)

    def _rebase(self) -> Row:
        branches = self.place / "branches"
        build_branches(branches, self.size)
        return Row(rebase_all(branches, self.size, 300) / self._together, 8, at_least=True)

    @cached_property
    def _of_large(self) -> tuple[float, float]:
        """Return the seconds of a correction of the large wardrobe, and its memory, GiB."""
        work = (
            "import os, resource, sys; from pathlib import Path; import bench_replay as bench\n"
            "folder, size = Path(sys.argv[1]), int(sys.argv[2])\n"
            "bench.build_wardrobe(folder, size)\n"
            "print(bench.timed(lambda: bench.correct(folder, bench.BLOCK, 'shorten-shoulder', '2',"
            " bench.Role.CORRECTION, bench.Processes(2))))\n"
            "print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 2**20)\n"
        )
        paths = os.pathsep.join(map(str, (HERE / ".ci/import", HERE, HERE / "tests/bench")))
        cache = {"TRUEUP_CACHE": "", "XDG_CACHE_HOME": str(self._large_side.place / "cache")}
        done = subprocess.run(
            [sys.executable, "-c", work, str(self._large_side.wardrobe), str(self.large)],
            env={**os.environ, "PYTHONPATH": paths, **cache},
            check=True, capture_output=True, text=True,
        )  # fmt: skip
        seconds, memory = map(float, done.stdout.split())
        return seconds, memory

    @cached_property
    def _large_side(self) -> Side:
        side = Side(HERE, self.place / "large")
        (side.place / "cache").mkdir(parents=True)
        return side

    @cached_property
    def _large_read(self) -> Side:
        """Return the large wardrobe, corrected and read once."""
        _ = self._of_large
        self._large_side.run()
        return self._large_side

    def _growth(self) -> Row:
        return Row(self._of_large[0] / self._together, 1.1 * self.large / self.size)

    def _memory(self) -> Row:
        return Row(self._of_large[1], 1)

    def _reading(self) -> Row:
        side = Side(HERE, self.place / "small")
        side.place.mkdir()
        os.environ["TRUEUP_CACHE"] = str(side.place / "cache")
        build_wardrobe(side.wardrobe, 100)
        correct(side.wardrobe, BLOCK, "shorten-shoulder", "2", Role.CORRECTION)
        for verb in _READING:
            side.run(*verb)
        return Row(max(_least(lambda v=verb: side.run(*v).cpu) for verb in _READING) / _typer(), 3)

    def _help(self) -> Row:
        side = Side(HERE, self.place)
        return Row(_least(lambda: side.run("--help").cpu) / _typer(), 1.6)

    def _unchanged(self) -> Row:
        side = self._large_read
        return Row(_least(lambda: side.run().cpu) / _git_status(side.wardrobe), 8)

    def _leaf(self) -> Row:
        side, leaf = self._large_read, name_of(self.large - 1)
        steps = iter(range(1, _ROUNDS + 1))
        cost = _least(lambda: side.run("style", leaf, "lengthen", "--by", f"{next(steps)}mm").cpu)
        return Row(cost / _git_status(side.wardrobe), 10)

    def _history(self) -> Row:
        side = Side(HERE, self.place / "long")
        side.place.mkdir()
        build_wardrobe(side.wardrobe, 100)
        _lengthen_history(side.wardrobe)
        pattern = name_of(3)
        side.run("history", pattern)
        path = f"patterns/{pattern}.toml"
        log = _least(
            lambda: _cpu(["git", "-C", str(side.wardrobe), "log", "--oneline", "--", path])
        )
        return Row(_least(lambda: side.run("history", pattern).cpu) / log, 4)

    def _dask(self) -> Row:
        from trueup.lineage.evaluation.cluster import Cluster  # noqa: PLC0415

        with cluster() as address:
            lanes = Cluster(address)
            there = corrected(self.size, lanes, "2")
            lanes.close()
        return Row(there / self._together, 1.3)


def _least(cost: Callable[[], float]) -> float:
    return min(cost() for _ in range(_ROUNDS))


def _cpu(command: list[str]) -> float:
    """Return the processor time of a command, s."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(command, check=True, capture_output=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def _typer() -> float:
    return _least(lambda: _cpu([sys.executable, "-c", "import typer"]))


def _git_status(folder: Path) -> float:
    return _least(lambda: _cpu(["git", "-C", str(folder), "status"]))


def _lengthen_history(folder: Path) -> None:
    """Add commits that each change one pattern's file by a comment, each pattern in its turn."""
    stream = []
    for turn in range(_COMMITS):
        index = turn % 100
        text = f"{pattern_file(index)}# looked at {turn} times\n"
        when = 1_800_000_000 + turn
        origin = "" if turn else "from refs/heads/main^0\n"
        stream += [
            f"commit refs/heads/main\ncommitter bench <bench@localhost> {when} +0000\n",
            f"data 7\nLook at\n{origin}M 100644 inline patterns/{name_of(index)}.toml\n",
            f"data {len(text)}\n{text}\n",
        ]
    git = ["git", "-C", str(folder)]
    subprocess.run([*git, "fast-import", "--quiet"], input="".join(stream).encode(), check=True)
    subprocess.run([*git, "reset", "-q", "--hard"], check=True)


def main() -> None:
    """Measure the rows asked for and print the table."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("words", nargs="*", metavar="ROW", help="only rows with one of these words")
    parser.add_argument("--size", type=int, default=1000)
    parser.add_argument("--large", type=int, default=10000)
    parser.add_argument("--baseline", type=Path, help="the folder of an earlier checkout")
    asked = parser.parse_args()
    table = Table("what", "measured", "target", "reached")
    with tempfile.TemporaryDirectory() as place:
        bench = Bench(Path(place), asked.size, asked.large, asked.baseline)
        for name, measure in bench.rows():
            if not asked.words or any(word in name for word in asked.words):
                cells = measure().cells()
                table.add_row(name, *cells)
                Console(stderr=True).print(f"{name}: {cells[0]}")
    Console(width=100).print(table)


if __name__ == "__main__":
    main()
