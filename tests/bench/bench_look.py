"""How soon the live page answers a move of an amount, beside the command's preview.

    python -m tests.bench.bench_look [--moves N]

It plays the sample wardrobe, serves it by `trueup look`, and moves the amount of a hollowed armhole
of its block, each time to one that was not asked for before: by steps so far apart that none was
worked out while there was time. Then the same amounts again, as a page does that is moved back.

    first     until the first row is there, of the pattern worked out first
    rows      until all rows are, and it may be recorded
    pictures  until all pictures are, too
    preview   the same by `trueup correct --preview`, a process each

It prints medians and the longest, in milliseconds; it asserts nothing.
"""

import argparse
import http.client
import json
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path
from statistics import median

from tests.checkout import IMPORTS
from tests.live.running import Running, running

BLOCK = "marta-block"


def moved(live: Running, by: float) -> dict[str, float]:
    """Return after how many milliseconds each part of the answer to a move was there."""
    values = {"piece": "front", "by": f"{by:g}mm"}
    correction = {"node": BLOCK, "kind": "scoop-armhole", "values": values}
    body = json.dumps({"change": correction}).encode()
    found: dict[str, float] = {}
    began = time.perf_counter()
    with closing(http.client.HTTPConnection("127.0.0.1", live.port)) as asked:
        asked.request("POST", "/preview", body, live.headers())
        answer = asked.getresponse()
        while line := answer.readline():
            told = json.loads(line)
            now = 1000 * (time.perf_counter() - began)
            if "row" in told:
                found.setdefault("first", now)
            if "own" in told:
                found["rows"] = now
            if "whole" in told:
                found["pictures"] = now
    return found


def previewed(folder: Path, by: float) -> float:
    """Return how many milliseconds the command takes for the same."""
    words = ("correct", BLOCK, "scoop-armhole", "--piece", "front", "--by", f"{by:g}mm")
    began = time.perf_counter()
    subprocess.run(
        [sys.executable, "-m", "trueup.cli", "-C", str(folder), *words, "--preview"],
        env={**os.environ, "PYTHONPATH": IMPORTS},
        stdout=subprocess.DEVNULL,
        check=True,
    )
    return 1000 * (time.perf_counter() - began)


def tell(name: str, times: Sequence[float]) -> None:
    """Print the median and the longest."""
    print(f"{name:28} {median(times):8.0f} ms {max(times):8.0f} ms")


def main() -> None:
    """Run the bench."""
    given = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    given.add_argument("--moves", type=int, default=10)
    moves = given.parse_args().moves
    amounts = [3 + 0.7 * number for number in range(moves)]
    with tempfile.TemporaryDirectory() as place:
        os.environ["TRUEUP_CACHE"] = f"{place}/cache"
        folder = Path(place) / "store"
        subprocess.run(
            [sys.executable, "-m", "trueup.cli", "demo", str(folder)],
            env={**os.environ, "PYTHONPATH": IMPORTS},
            stdout=subprocess.DEVNULL,
            check=True,
        )
        with running(folder, "--no-browser") as live:
            moved(live, 2.5)  # loads what it needs
            fresh = [moved(live, by) for by in amounts]
            again = [moved(live, by) for by in amounts]
        commands = [previewed(folder, by + 0.05) for by in amounts]
    print(f"{'':28} {'median':>11} {'longest':>11}")
    for name in ("first", "rows", "pictures"):
        tell(f"{name}, moved on", [each[name] for each in fresh])
        tell(f"{name}, moved back", [each[name] for each in again])
    tell("preview by the command", commands)


if __name__ == "__main__":
    main()
