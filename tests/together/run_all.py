"""Let 2, 4 and 8 writers work on one wardrobe, with readers and an editor beside them.

    python -m tests.together.run_all [--seconds N] [--writers N ...] [--readers N] [--editors N]

Each crowd works for so many seconds (60 unless given). Exits with 1 where something is wrong.
"""

import argparse
import tempfile
from pathlib import Path

from tests.small_wardrobe import build
from tests.together.crowd import Crowd
from tests.warm import Warm


def main() -> int:
    """Run it from the command line."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--writers", type=int, nargs="+", default=[2, 4, 8])
    parser.add_argument("--readers", type=int, default=2)
    parser.add_argument("--editors", type=int, default=1)
    parser.add_argument("--pause", type=float, default=1.0, help="between an editor's saves")
    asked = parser.parse_args()
    wrong = 0
    for writers in asked.writers:
        with tempfile.TemporaryDirectory(prefix="trueup-together-") as folder:
            place = Path(folder)
            with Warm(place / "home") as trueup:
                build(trueup, place / "wardrobe")
            crowd = Crowd(place / "wardrobe", place / "home", asked.pause)
            told = crowd.work(writers, asked.readers, asked.editors, asked.seconds)
            found = crowd.settled()
        wrong += len(found)
        print(
            f"{writers} writers: {len(told.recorded)} steps recorded, {len(told.refused)} refused, "
            f"{told.read} answers read, {len(told.saved)} saves; {len(found)} things wrong"
        )
        for sentence in sorted(told.sentences):
            print(f"    refused: {sentence}")
        for fault in found:
            print(f"    {fault}")
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main())
