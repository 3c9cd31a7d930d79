"""How long a block correction takes to reach every pattern, beside git rebasing the same tree.

    python tests/bench/bench_replay.py [SIZE ...] [--rebase-at-most N]

For each size (patterns, eight changes each: one block, ten patterns below it, the rest spread below
those ten) it builds a wardrobe and times

    correct   a correction of the block: every pattern replayed, judged and recorded, on all cores
    one core  another one on one core alone
    status    opening the wardrobe and reading what needs attention, nothing changed
    leaf      a change of one pattern that nothing derives from

and, beside them, the same tree as git branches of eight one-line commits each, where

    rebase    a commit on the block's branch, then `git rebase` of every branch onto its new parent
    log       `git log -1` in that repository, the least git does

It prints times and ratios; it asserts nothing. Where a tree has more branches than
`--rebase-at-most`, that many are rebased and the time is scaled up, and the table says so.
"""

import argparse
import os
import subprocess
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from rich.console import Console
from rich.table import Table

from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.units import Unit
from trueup.lineage.evaluation.collecting import collect_seldom
from trueup.lineage.evaluation.lanes import Lanes, Processes
from trueup.lineage.files.records import Role
from trueup.lineage.store import Store
from trueup.lineage.wardrobe import Wardrobe

FANOUT = 10
BLOCK = "block"

CHAIN = (
    ("shorten-shoulder", 'by = "{0}mm"'),
    ("widen-neck", 'by = "{1}mm"'),
    ("lower-neck", 'piece = "front"\nby = "{2}mm"'),
    ("shape-neck", 'piece = "front"\nshape = "v"'),
    ("lower-armhole", 'by = "{1}mm"'),
    ("lengthen", 'by = "{3}mm"'),
    ("lengthen", 'piece = "sleeve"\nby = "-{3}mm"'),
    ("refit-cap", 'to = "35mm"'),
)


def block_file() -> str:
    """Return the file of the block."""
    return (
        f'format = 1\nname = "{BLOCK}"\n\n[draft]\nsystem = "bust-proportion"\n'
        'bust = "88cm"\nwaist = "68cm"\nback-length = "38cm"\nsleeve-length = "58cm"\n'
    )


def pattern_file(index: int) -> str:
    """Return the file of a pattern; the amounts differ from pattern to pattern."""
    parent = BLOCK if index < FANOUT else name_of(index % FANOUT)
    amounts = (1 + index % 5, 2 + index % 7 / 2, 5 + index % 11, 20 + index % 13)
    lines = ["format = 1", f'name = "{name_of(index)}"', "", "[[parents]]", f'name = "{parent}"']
    for step, (kind, values) in enumerate(CHAIN):
        lines += ["", "[[steps]]", f'id = "s{step}"', 'role = "style"', f'kind = "{kind}"']
        lines += ["version = 1", values.format(*amounts)]
    return "\n".join(lines) + "\n"


def name_of(index: int) -> str:
    """Return the name of a pattern."""
    return f"pattern-{index}"


def parent_of(index: int) -> str:
    """Return the name of a pattern's parent."""
    return BLOCK if index < FANOUT else name_of(index % FANOUT)


def build_wardrobe(folder: Path, size: int) -> None:
    """Write a wardrobe of so many patterns in one commit."""
    files = {
        "wardrobe.toml": b'format = 1\nname = "bench"\nunit = "mm"\n',
        f"blocks/{BLOCK}.toml": block_file().encode(),
    }
    files |= {
        f"patterns/{name_of(index)}.toml": pattern_file(index).encode() for index in range(size)
    }
    Store.create(folder, files, "Build the bench wardrobe").close()


def timed(work: Callable[[], object]) -> float:
    """Return the seconds a piece of work takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def correct(
    folder: Path, node: str, kind: str, by: str, role: Role, lanes: Lanes | None = None
) -> None:
    """Make one change on a node and record it, opening the wardrobe anew as a command does."""
    collect_seldom()
    values = {"by": by} if kind != "scoop-armhole" else {"by": by, "piece": "front"}
    change = read_change(kind_named(kind), values, Unit.MILLIMETRE)
    with Wardrobe.open(folder, lanes) as wardrobe:
        wardrobe.record(wardrobe.propose_steps(node, [change], role, "bench"))


def status(folder: Path) -> None:
    """Open a wardrobe and read what needs attention."""
    with Wardrobe.open(folder) as wardrobe:
        _ = wardrobe.state.open_conflicts


def git(folder: Path, *arguments: str, feed: bytes | None = None) -> None:
    """Run git in a folder."""
    identity = ("-c", "user.name=bench", "-c", "user.email=bench@localhost")
    subprocess.run(
        ["git", *identity, *arguments], cwd=folder, input=feed, check=True, capture_output=True
    )


def branch_commands(size: int) -> Iterator[str]:
    """Yield a fast-import stream: a branch a node, eight commits of one line each a branch."""
    yield from _commit(BLOCK, None, f"{BLOCK}.txt", "drafted")
    for index in range(size):
        parent = f"refs/heads/{parent_of(index)}"
        for step in range(len(CHAIN)):
            origin = parent if step == 0 else None
            yield from _commit(name_of(index), origin, f"{name_of(index)}-{step}.txt", str(step))


def _commit(branch: str, origin: str | None, path: str, content: str) -> Iterator[str]:
    yield f"commit refs/heads/{branch}\ncommitter bench <bench@localhost> 1700000000 +0000\n"
    yield "data 4\nstep\n"
    if origin:
        yield f"from {origin}\n"
    yield f"M 100644 inline {path}\ndata {len(content)}\n{content}\n"


def build_branches(folder: Path, size: int) -> None:
    """Build the same tree as branches of a git repository."""
    folder.mkdir()
    git(folder, "init", "-q", "-b", "main")
    git(folder, "fast-import", "--quiet", feed="".join(branch_commands(size)).encode())
    git(folder, "checkout", "-q", BLOCK)


def rebase_all(folder: Path, size: int, at_most: int) -> float:
    """Commit on the block and rebase every branch onto its new parent; return the seconds.

    With more than `at_most` branches, that many are rebased and the time is scaled up.
    """
    git(folder, "branch", "-q", f"old-{BLOCK}", BLOCK)
    for index in range(FANOUT):
        git(folder, "branch", "-q", f"old-{name_of(index)}", name_of(index))
    (folder / "correction.txt").write_text("corrected\n")
    git(folder, "add", "correction.txt")
    git(folder, "commit", "-q", "-m", "correct")
    count = min(size, at_most)

    def rebase() -> None:
        for index in range(count):
            parent = parent_of(index)
            git(folder, "rebase", "-q", "--onto", parent, f"old-{parent}", name_of(index))

    return timed(rebase) * size / count


def bench(size: int, at_most: int) -> dict[str, float]:
    """Return the seconds of each piece of work at a size."""
    with tempfile.TemporaryDirectory() as place:
        os.environ["TRUEUP_CACHE"] = place
        wardrobe, branches = Path(place) / "wardrobe", Path(place) / "branches"
        build_wardrobe(wardrobe, size)
        correct(wardrobe, BLOCK, "shorten-shoulder", "2", Role.CORRECTION)
        seconds = {
            "correct": timed(
                lambda: correct(wardrobe, BLOCK, "scoop-armhole", "3", Role.CORRECTION)
            ),
            "one core": timed(
                lambda: correct(
                    wardrobe, BLOCK, "scoop-armhole", "3.1", Role.CORRECTION, Processes(1)
                )
            ),
            "status": timed(lambda: status(wardrobe)),
            "leaf": timed(
                lambda: correct(wardrobe, name_of(size - 1), "lengthen", "10", Role.STYLE)
            ),
        }
        build_branches(branches, size)
        seconds["rebase"] = rebase_all(branches, size, at_most)
        seconds["log"] = timed(lambda: git(branches, "log", "-1"))
    return seconds


def main() -> None:
    """Run the sizes asked for and print the table."""
    parser = argparse.ArgumentParser(description="Time replay beside git rebase.")
    parser.add_argument("sizes", nargs="*", type=int, default=[100, 1000, 10000])
    parser.add_argument("--rebase-at-most", type=int, default=1000)
    asked = parser.parse_args()
    table = Table(title="seconds, and rebase / correct")
    for heading in (
        "patterns",
        "correct",
        "one core",
        "one/all",
        "status",
        "leaf",
        "rebase",
        "log",
        "rebase/correct",
    ):
        table.add_column(heading, justify="right")
    for size in asked.sizes:
        seconds = bench(size, asked.rebase_at_most)
        scaled = " (scaled)" if size > asked.rebase_at_most else ""
        table.add_row(
            str(size),
            *(f"{seconds[name]:.2f}" for name in ("correct", "one core")),
            f"{seconds['one core'] / seconds['correct']:.2f}",
            *(f"{seconds[name]:.2f}" for name in ("status", "leaf")),
            f"{seconds['rebase']:.1f}{scaled}",
            f"{seconds['log']:.3f}",
            f"{seconds['rebase'] / seconds['correct']:.1f}{scaled}",
        )
    Console(width=100).print(table)


if __name__ == "__main__":
    main()
