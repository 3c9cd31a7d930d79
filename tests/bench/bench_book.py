"""How long a book of many patterns takes to bind, to open in a browser, and to turn a page of.

    python tests/bench/bench_book.py [SIZE ...]

For each size it builds the wardrobe of `bench_replay`, corrected twice, and times

    bind      writing the book, with the three versions each pattern has
    open      a browser from the file's address until the first page stands on the screen
    turn      from there to the page of a pattern with its picture, and back

and beside them, in the same browser,

    blank     opening a file of the same size with one line of text to show, the rest of it packed
              letters in one element: the least a file of that size costs

It prints times and ratios; it asserts nothing. It needs a Chromium on the machine.
"""

import argparse
import os
import shutil
import sys
import tempfile
from pathlib import Path

from bench_replay import BLOCK, build_wardrobe, correct, name_of, timed
from playwright.sync_api import Page, sync_playwright
from rich.console import Console
from rich.table import Table

from trueup.cli.book.binding import bound
from trueup.cli.opening import reading
from trueup.lineage.files.records import Role

_ARGUMENTS = (
    *("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
)
_ROUNDS = 5


def opened(page: Page, file: Path, shows: str) -> None:
    """Open a file and wait until something of it stands on the screen."""
    page.goto("about:blank")
    page.goto(file.as_uri())
    page.wait_for_selector(shows)


def turned(page: Page, name: str) -> None:
    """Go to the page of a pattern and back to the first."""
    page.evaluate(f"location.hash = '/pattern/{name}'")
    page.wait_for_selector(f"h1:text-is('{name}') ~ section svg")
    page.evaluate("location.hash = '/start'")
    page.wait_for_selector(".tree")


def least(work: list[float]) -> float:
    """Return the shortest of several rounds, the one least disturbed."""
    return min(work)


def bench(folder: Path, size: int, page: Page) -> dict[str, float]:
    """Return the seconds of each piece of work at a size, and the megabytes of the book."""
    wardrobe, book, blank = folder / "wardrobe", folder / "book.html", folder / "blank.html"
    build_wardrobe(wardrobe, size)
    correct(wardrobe, BLOCK, "shorten-shoulder", "2", Role.CORRECTION)
    correct(wardrobe, BLOCK, "scoop-armhole", "3", Role.CORRECTION)
    with reading(wardrobe) as source:
        bind = timed(lambda: bound(source, book, 5, replace=False))
    letters = "A" * book.stat().st_size
    blank.write_text(f"<!doctype html><h1>blank</h1><script type=x>{letters}</script>")
    return {
        "bind": bind,
        "megabytes": book.stat().st_size / 1e6,
        "open": least([timed(lambda: opened(page, book, ".tree")) for _ in range(_ROUNDS)]),
        "turn": least([timed(lambda: turned(page, name_of(size - 1))) for _ in range(_ROUNDS)]) / 2,
        "blank": least([timed(lambda: opened(page, blank, "h1")) for _ in range(_ROUNDS)]),
    }


def main() -> None:
    """Run the sizes asked for and print the table."""
    parser = argparse.ArgumentParser(description="Time the book beside a file of its size.")
    parser.add_argument("sizes", nargs="*", type=int, default=[100, 1000])
    asked = parser.parse_args()
    chromium = shutil.which("chromium") or shutil.which("google-chrome")
    if chromium is None:
        sys.exit("There is no chromium on this machine; install it first.")
    table = Table(title="seconds, and open / blank")
    for heading in ("patterns", "bind", "MB", "open", "turn", "blank", "open/blank"):
        table.add_column(heading, justify="right")
    with sync_playwright() as player:
        browser = player.chromium.launch(executable_path=chromium, args=list(_ARGUMENTS))
        for size in asked.sizes:
            with tempfile.TemporaryDirectory() as place:
                os.environ["TRUEUP_CACHE"] = place
                found = bench(Path(place), size, browser.new_page())
            table.add_row(
                str(size),
                f"{found['bind']:.1f}",
                f"{found['megabytes']:.1f}",
                *(f"{found[name]:.3f}" for name in ("open", "turn", "blank")),
                f"{found['open'] / found['blank']:.1f}",
            )
        browser.close()
    Console(width=100).print(table)


if __name__ == "__main__":
    main()
