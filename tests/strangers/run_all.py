"""Try all that a stranger can set and plant, and say what is refused and what is wrong.

    python -m tests.strangers.run_all [settings|planted|pipes ...] [--minutes N] [--only PART]

settings   every setting of git, with every value, in the wardrobe and in the clone
planted    everything that is planted, in the wardrobe and in the clone
pipes      each file of the wardrobe, git's own among them, as a pipe

Ends by itself: after so many minutes, or when all is done. Exits with 1 where something is wrong.
"""

import argparse
import subprocess
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from tests.small_wardrobe import build_two
from tests.strangers.dividing import Trial, judged
from tests.strangers.ordeal import WHERE, Case, undergo
from tests.strangers.planted.everything import ANOTHER_HISTORY, PLANTED, pipes_in
from tests.strangers.planted.putting import Plant
from tests.strangers.settings import VALUES, all_settings
from tests.strangers.watched import Watched
from tests.warm import Answer

PARTS = ("settings", "planted", "pipes")


@dataclass(frozen=True)
class Ground:
    """Where the ordeals take place."""

    trueup: Watched
    built: tuple[Path, Path]
    clean: list[Answer]
    place: Path

    def settings(self, only: str) -> Iterator[tuple[int, str, list[str]]]:
        """Try each value in every setting; yield how many, what is told of it, what is wrong."""
        for value in VALUES:
            for where in WHERE:
                if only not in value:
                    continue
                trial = Trial(
                    self.trueup, self.built, self.clean, self.place / "case", value, where
                )
                tried = trial.of(all_settings())
                unread = len(all_settings()) - len(tried.answered) - len(tried.refused)
                told = (
                    f"settings of the {where} to {value}: {len(tried.answered)} as if not there, "
                    f"{len(tried.refused)} refused ({', '.join(tried.refused)}), "
                    f"{unread} that git itself does not read"
                )
                yield len(all_settings()), told, tried.faults

    def planted(self, only: str) -> Iterator[tuple[int, str, list[str]]]:
        """Plant each thing in the wardrobe, and in the clone."""
        for name, plant in PLANTED.items():
            for where in WHERE:
                if only in name:
                    yield self._one(name, plant, where)

    def pipes(self, only: str) -> Iterator[tuple[int, str, list[str]]]:
        """Make a pipe of each file in turn."""
        for index, where in enumerate(WHERE):
            for name, plant in pipes_in(self.built[index]).items():
                if only in name:
                    yield self._one(name, plant, where)

    def _one(self, name: str, plant: Plant, where: str) -> tuple[int, str, list[str]]:
        place = self.place / "case"
        _take_away(place)
        case = Case.of(self.built, place)
        plant(case, case.folder if where == "wardrobe" else case.clone)
        another = name.startswith(ANOTHER_HISTORY)
        refused, found = judged(self.trueup, case, self.clean, where, another_history=another)
        _take_away(place)
        told = "refused" if refused else "as if not there"
        return 1, f"{name} ({where}): {told}", [f"{name} ({where}): {each}" for each in found]


def _take_away(place: Path) -> None:
    """Take a folder away, however deep what was planted in it lies."""
    subprocess.run(["rm", "-rf", str(place)], check=True)


def main() -> int:
    """Run it from the command line."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("parts", nargs="*", default=PARTS)
    parser.add_argument("--minutes", type=float, default=240.0)
    parser.add_argument("--only", default="")
    parser.add_argument("--tell", action="store_true", help="what became of each, not only faults")
    asked = parser.parse_args()
    until = time.monotonic() + 60 * asked.minutes
    done = wrong = 0
    with tempfile.TemporaryDirectory(prefix="trueup-strangers-") as folder:
        place = Path(folder)
        with Watched(place / "home") as trueup:
            built = build_two(trueup, place)
            clean = undergo(trueup, Case.of(built, place / "clean"))
            ground = Ground(trueup, built, clean, place)
            for part in asked.parts:
                for count, told, found in getattr(ground, part)(asked.only):
                    done += count
                    wrong += len(found)
                    if asked.tell or part == "settings":
                        print(told, flush=True)
                    for fault in found:
                        print(f"    WRONG {fault}", flush=True)
                    if time.monotonic() > until:
                        print("the time is up")
                        break
    print(f"{done} cases, {wrong} things wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main())
