"""How long a book of many patterns takes to write, to open in a browser, and to turn a page of.

    python tests/bench/bench_book.py [--baseline FOLDER] [SIZE ...]

For each size it builds the wardrobe of `bench_replay`, corrected twice, and times

    write     the command `book`, with the three versions each pattern has
    CPU       of that command and all processes it starts
    open      a browser from the file's address until the first page stands on the screen
    read      the same, until the whole file is read as well
    turn      from there to the page of a pattern with its picture, each time of another, and back

and beside them, in the same browser,

    blank     reading a file of the same size with one line of text to show, the rest of it packed
              letters in one element: the least a file of that size costs

With a baseline, an earlier checkout, the same is done there in turn and the ratios are printed.
It prints times and ratios; it asserts nothing. It needs a Chromium on the machine.
"""

import argparse
import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from itertools import count
from pathlib import Path
from typing import Literal

from bench_cpu import HERE
from bench_replay import name_of, timed
from playwright.sync_api import Page, sync_playwright
from rich.console import Console
from rich.table import Table

_ARGUMENTS = (
    *("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
)
_ROUNDS = 5
_HEADINGS = ("write", "CPU", "MB", "open", "read", "turn", "blank")

WORK = """
import json, os, subprocess, sys, time
from pathlib import Path
import bench_replay as bench

place, size = Path(sys.argv[1]), int(sys.argv[2])
os.environ["TRUEUP_CACHE"] = str(place)
folder = place / "wardrobe"
bench.build_wardrobe(folder, size)
bench.correct(folder, bench.BLOCK, "shorten-shoulder", "2", bench.Role.CORRECTION)
bench.correct(folder, bench.BLOCK, "scoop-armhole", "3", bench.Role.CORRECTION)
before, start = os.times(), time.perf_counter()
command = ["-m", sys.argv[3], "-C", str(folder), "book", str(place / "book.html")]
subprocess.run([sys.executable, *command], check=True, stdout=sys.stderr)
seconds, after = time.perf_counter() - start, os.times()
print(json.dumps([seconds, sum(after[2:4]) - sum(before[2:4])]))
"""


def written(checkout: Path, place: Path, size: int) -> tuple[float, float]:
    """Return the seconds and the CPU seconds of writing a book by a checkout; it lies in place."""
    imports = [checkout / ".ci/import", checkout, checkout / "tests/bench"]
    # Earlier checkouts were imported by their folders alone: what is installed is not theirs.
    module = "trueup.cli" if imports[0].is_dir() else "cli"
    done = subprocess.run(
        [sys.executable, "-c", WORK, str(place), str(size), module],
        env={**os.environ, "PYTHONPATH": os.pathsep.join(map(str, imports))},
        cwd=place, check=True, stdout=subprocess.PIPE, text=True,
    )  # fmt: skip
    seconds, cpu = json.loads(done.stdout.splitlines()[-1])
    return seconds, cpu


def opened(page: Page, file: Path, shows: str, until: Literal["commit", "load"]) -> None:
    """Open a file and wait until something of it stands on the screen.

    It is waited for from the first letters that come, or only once the whole file is read.
    """
    page.goto("about:blank")
    page.goto(file.as_uri(), wait_until=until)
    page.wait_for_selector(shows)


def turned(page: Page, name: str) -> None:
    """Go to the page of a pattern and back to the first."""
    page.evaluate(f"location.hash = '/pattern/{name}'")
    page.wait_for_selector(f"h1:text-is('{name}') ~ section svg")
    page.evaluate("location.hash = '/start'")
    page.wait_for_selector(f"main h1:not(:text-is('{name}'))")


def least(work: Callable[[], None]) -> float:
    """Return the seconds of the shortest of several rounds, the one least disturbed."""
    return min(timed(work) for _ in range(_ROUNDS))


def bench(checkout: Path, size: int, page: Page) -> dict[str, float]:
    """Return the seconds of each piece of work at a size, and the megabytes of the book."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        book, blank = place / "book.html", place / "blank.html"
        seconds, cpu = written(checkout, place, size)
        letters = "A" * book.stat().st_size
        blank.write_text(f"<!doctype html><h1>blank</h1><script type=x>{letters}</script>")
        others = count(size - 1, -1)
        return {
            "write": seconds,
            "CPU": cpu,
            "MB": book.stat().st_size / 1e6,
            "open": least(lambda: opened(page, book, "main h1", "commit")),
            "read": least(lambda: opened(page, book, "main h1", "load")),
            "turn": least(lambda: turned(page, name_of(next(others)))) / 2,
            "blank": least(lambda: opened(page, blank, "h1", "load")),
        }


def main() -> None:
    """Run the sizes asked for and print the table."""
    parser = argparse.ArgumentParser(description="Time the book beside a file of its size.")
    parser.add_argument("sizes", nargs="*", type=int, default=[100, 1000])
    parser.add_argument("--baseline", type=Path)
    asked = parser.parse_args()
    chromium = shutil.which("chromium") or shutil.which("google-chrome")
    if chromium is None:
        sys.exit("There is no chromium on this machine; install it first.")
    table = Table("patterns", *_HEADINGS, title="seconds; then baseline / here")
    with sync_playwright() as player:
        browser = player.chromium.launch(executable_path=chromium, args=list(_ARGUMENTS))
        for size in asked.sizes:
            here = bench(HERE, size, browser.new_page())
            table.add_row(str(size), *(f"{here[name]:.3f}" for name in _HEADINGS))
            if asked.baseline:
                there = bench(asked.baseline.resolve(), size, browser.new_page())
                row = (f"{there[n]:.3f} ({there[n] / here[n]:.2f})" for n in _HEADINGS)
                table.add_row("baseline", *row)
        browser.close()
    Console(width=100).print(table)


if __name__ == "__main__":
    main()
