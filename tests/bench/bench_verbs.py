"""How long whole commands take, beside those of another checkout of the program.

    python tests/bench/bench_verbs.py [--baseline FOLDER] [--size N] [--rounds N] [VERB ...]

It builds the wardrobe of `bench_replay` (one block, so many patterns below it, eight changes each),
corrects its block, cuts three garments and notes a fault of each, and gives each checkout a copy of
its own and a cache of its own. Then, round by round, every verb is run as a process of its own, by
this checkout and by the other, in turn which goes first; the first round only fills the caches.
`style` and `correct` make a change of another amount in each round, and are undone by the `undo`
that follows.

    cpu     seconds of processor time, the git it starts included
    wall    seconds on the clock, which other work on the machine disturbs
    ratio   this checkout's by the other's: the median over the pairs

It prints times and ratios; it asserts nothing. The other checkout, which `git worktree add --detach
FOLDER COMMIT` makes, is run by the same Python, with the same libraries.
"""

import argparse
import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from statistics import median

from bench_replay import BLOCK, build_wardrobe, name_of
from rich.console import Console
from rich.progress import track
from rich.table import Table

HERE = Path(__file__).parents[2]
PATTERN = name_of(3)
_CACHE_PLACE = "XDG_CACHE_HOME" if sys.platform == "linux" else "TRUEUP_CACHE"
GARMENTS = ("fair-blouse", "market-blouse", "sunday-blouse")


@dataclass(frozen=True)
class Cost:
    """What one run of a command took, in seconds."""

    cpu: float
    wall: float


@dataclass(frozen=True)
class Side:
    """A checkout, with the wardrobe and the cache it works on."""

    checkout: Path
    place: Path

    @property
    def wardrobe(self) -> Path:
        """The wardrobe's folder."""
        return self.place / "wardrobe"

    def run(self, *words: str) -> Cost:
        """Run one command in a process of its own; exits where the command fails."""
        cache = self.place / "cache"
        cache.mkdir(exist_ok=True)
        imports = self.checkout / ".ci" / "import"
        path = os.pathsep.join([str(imports), str(self.checkout)])
        # A baseline may be older than the rooms its modules lie in now.
        module = "trueup.cli" if imports.exists() else "cli"
        places = {"PYTHONPATH": path, "TRUEUP_CACHE": "", _CACHE_PLACE: str(cache)}
        command = [sys.executable, "-m", module, "-C", str(self.wardrobe), *words]
        before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
        # As a program that was installed, of which no module is compiled again each time.
        compiled = {
            "PYTHONPYCACHEPREFIX": str(self.place / "compiled"),
            "PYTHONDONTWRITEBYTECODE": "",
        }
        done = subprocess.run(
            command, cwd=self.checkout, env={**os.environ, **compiled, **places},
            capture_output=True, text=True, check=False,
        )  # fmt: skip
        wall, after = time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
        if done.returncode not in (0, 1):  # 1: `check` and `conflicts` found something
            sys.exit(f"{self.checkout}: {' '.join(words)}: {done.stderr}")
        cpu = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
        return Cost(cpu, wall)


def verbs(turn: int) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield the commands of one round, with what each is called in the table."""
    yield "no verb", ()
    yield "tree", ("tree",)
    yield "check", ("check", PATTERN)
    yield "conflicts", ("conflicts",)
    yield "history", ("history",)
    yield "garments", ("garments",)
    yield "garment", ("garment", GARMENTS[0])
    yield "measure", ("measure", PATTERN)
    yield "style", ("style", PATTERN, "lengthen", "--by", f"{10 + turn}mm")
    yield "undo style", ("undo",)
    yield "preview", (*_correction(turn), "--preview")
    yield "correct", _correction(turn)
    yield "undo correct", ("undo",)


def _correction(turn: int) -> tuple[str, ...]:
    return ("correct", BLOCK, "scoop-armhole", "--piece", "front", "--by", f"{3 + turn / 10}mm")


def build(side: Side, size: int) -> None:
    """Build the wardrobe: patterns, a correction, and garments with their notes."""
    build_wardrobe(side.wardrobe, size)
    for piece in ("front", "back", "sleeve"):
        side.run("style", BLOCK, "seam-allowance", "--piece", piece, "--by", "15mm")
    side.run("correct", BLOCK, "shorten-shoulder", "--by", "2mm", "--why", "bench")
    for garment in GARMENTS:
        side.run("cut", PATTERN, "--name", garment, "--wearer", "A")
        side.run(
            "note", garment, "shoulder-too-long", "--place", "front.shoulder", "--amount", "6mm"
        )


def measured(sides: list[Side], rounds: int, chosen: list[str]) -> dict[str, list[list[Cost]]]:
    """Return what every verb took on every side, round by round."""
    costs: dict[str, list[list[Cost]]] = {}
    for turn in track(range(rounds + 1), "rounds"):
        for name, words in verbs(turn):
            if chosen and name.removeprefix("undo ") not in chosen:
                continue
            pair = {side: side.run(*words) for side in sides[:: 1 if turn % 2 else -1]}
            if turn:
                costs.setdefault(name, []).append([pair[side] for side in sides])
    return costs


def row(name: str, costs: list[list[Cost]]) -> list[str]:
    """Return one line of the table."""
    cells = [name]
    for of in (lambda cost: cost.cpu, lambda cost: cost.wall):
        for side in zip(*costs, strict=True):
            cells += [f"{min(map(of, side)):.3f}", f"{median(map(of, side)):.3f}"]
        if len(costs[0]) == 2:
            cells.append(f"{median(of(here) / of(there) for here, there in costs):.3f}")
    return cells


def main() -> None:
    """Run the rounds asked for and print the table."""
    parser = argparse.ArgumentParser(description="Time whole commands beside another checkout's.")
    parser.add_argument("verbs", nargs="*", help="only these; all without")
    parser.add_argument("--baseline", type=Path, help="the folder of another checkout")
    parser.add_argument("--size", type=int, default=100, help="patterns (default: 100)")
    parser.add_argument("--rounds", type=int, default=10, help="runs that count (default: 10)")
    asked = parser.parse_args()
    checkouts = [HERE, asked.baseline.resolve()] if asked.baseline else [HERE]
    with tempfile.TemporaryDirectory() as place:
        sides = [Side(each, Path(place) / str(n)) for n, each in enumerate(checkouts)]
        # Built by the oldest, which the others can all read.
        sides[-1].place.mkdir()
        build(sides[-1], asked.size)
        for side in sides[:-1]:
            shutil.copytree(sides[-1].wardrobe, side.wardrobe)
        costs = measured(sides, asked.rounds, asked.verbs)
    names = ("here", "there")[: len(sides)]
    table = Table(title=f"seconds, {asked.size} patterns, {asked.rounds} rounds")
    table.add_column("verb")
    for figure in ("cpu", "wall"):
        for name in names:
            table.add_column(f"{figure} {name}\nmin", justify="right")
            table.add_column("\nmedian", justify="right")
        if len(sides) == 2:
            table.add_column(f"{figure}\nratio", justify="right")
    for name, found in costs.items():
        table.add_row(*row(name, found))
    Console(width=110).print(table)


if __name__ == "__main__":
    main()
