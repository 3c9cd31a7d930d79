"""Harm every file of a wardrobe in every way, and say of each what is wrong.

    python -m tests.damage.run_all [--minutes N] [--every N] [--file PART] [--manner PART]
                                   [--packed]

Ends by itself: after so many minutes, or when all is done. Exits with 1 where something is wrong.
"""

import argparse
import shutil
import subprocess
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from tests.damage.judging import Harm, case_of, faults, undergo
from tests.damage.spoiling import MANNERS, files_of
from tests.small_wardrobe import build
from tests.strangers.ordeal import Case
from tests.unprivileged import warm


def harms(folder: Path, every: int = 1) -> list[Harm]:
    """Return every harm, or every so many of those, spread over files and manners."""
    found = [Harm(file, manner) for file in files_of(folder) for manner in MANNERS]
    return found[::every]


def run(
    chosen: list[Harm], built: Path, place: Path, until: float
) -> Iterator[tuple[Harm, list[str]]]:
    """Do each harm to a copy of what was built; yield it with what is wrong."""
    with warm(place / "home") as trueup:
        shutil.rmtree(place / "clean", ignore_errors=True)
        clean = undergo(trueup, _case(built, place / "clean"))
        for harm in chosen:
            if time.monotonic() > until:
                return
            case = _case(built, place / "case")
            harm.do(case.folder)
            before = case.lies_outside()
            answers = undergo(trueup, case)
            found = faults(answers, clean, harm, case, built)
            if case.lies_outside() != before:
                found.append("what lies outside is not as it was")
            yield harm, found


def _case(built: Path, place: Path) -> Case:
    if place.exists():
        subprocess.run(["chmod", "-R", "u+rwX", str(place)], check=False)
        shutil.rmtree(place)
    place.mkdir()
    return case_of(built, place)


def main() -> int:
    """Run it from the command line."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("--minutes", type=float, default=60.0)
    parser.add_argument("--every", type=int, default=1)
    parser.add_argument("--file", default="")
    parser.add_argument("--manner", default="")
    parser.add_argument("--packed", action="store_true")
    asked = parser.parse_args()
    until = time.monotonic() + 60 * asked.minutes
    wrong = done = 0
    with tempfile.TemporaryDirectory(prefix="trueup-damage-") as folder:
        place = Path(folder)
        with warm(place / "home") as trueup:
            build(trueup, place / "wardrobe")
        if asked.packed:
            subprocess.run(["git", "-C", str(place / "wardrobe"), "gc", "-q"], check=True)
        chosen = [
            harm
            for harm in harms(place / "wardrobe", asked.every)
            if asked.file in harm.file and asked.manner in harm.manner
        ]
        for harm, found in run(chosen, place / "wardrobe", place, until):
            done += 1
            wrong += bool(found)
            for fault in found:
                print(f"{harm}: {fault}", flush=True)
    print(f"{done} of {len(chosen)} harms done, {wrong} with something wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main())
