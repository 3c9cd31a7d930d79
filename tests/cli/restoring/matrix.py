"""Damage every file of a wardrobe in every way, restore it, and tell what is not as promised.

    python -m tests.cli.restoring.matrix [PART OF A PATH ...]

It takes a while, so a sample of it is in the tests.
"""

import shutil
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from tests.cli.restoring import damage, judging
from tests.cli.restoring.story import tell
from tests.sharing.copied import copied


def files_of(folder: Path) -> Iterator[str]:
    """Yield every file of a wardrobe, git's own among them."""
    for path in sorted(folder.rglob("*")):
        place = path.relative_to(folder).as_posix()
        if path.is_file() and "/hooks/" not in place and not path.name.startswith(".trueup-cache"):
            yield place


def case(original: Path, was: judging.Before, place: str, name: str, room: Path) -> list[str]:
    """Damage one file of a copy in one way, and return what is not as promised."""
    folder = copied(original, room / "wardrobe")
    try:
        damage.DAMAGES[name](folder / place)
        return judging.faults(folder, was)
    finally:
        shutil.rmtree(room / "wardrobe", ignore_errors=True)


def main() -> int:
    """Run all cases whose path holds one of the words given; exit with 1 if one is not in order."""
    words = sys.argv[1:] or [""]
    tally: Counter[str] = Counter()
    with tempfile.TemporaryDirectory(prefix="trueup-matrix-") as room:
        original = Path(room) / "original"
        tell(original, Path(room) / "scratch")
        was = judging.before(original)
        began = time.monotonic()
        for place in files_of(original):
            if not any(word in place for word in words):
                continue
            for name in damage.DAMAGES:
                found = case(original, was, place, name, Path(room))
                tally["wrong" if found else "in order"] += 1
                for line in found:
                    print(f"{place} {name}: {line}\n", flush=True)
        print(f"{dict(tally)} in {time.monotonic() - began:.0f} s")
    return 1 if tally["wrong"] else 0


if __name__ == "__main__":
    raise SystemExit(main())
