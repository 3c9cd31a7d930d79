"""The live page on a machine on which every pattern takes its time: run as a program of its own."""

import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tests.live.running import Running, running

SECONDS = "TRUEUP_TESTS_SLOW"
JUDGED = "TRUEUP_TESTS_JUDGED"


@contextmanager
def slowly(folder: Path, seconds: float, judged: Path | None = None) -> Iterator[Running]:
    """Serve a wardrobe; what becomes of a step in a pattern takes so many seconds more.

    Into the file `judged` a line is written for each pattern in which that is worked out.
    """
    variables = {SECONDS: str(seconds), JUDGED: str(judged or "")}
    with running(folder, "--no-browser", module="tests.live.slow", **variables) as it:
        yield it


def _main() -> int:
    import os  # noqa: PLC0415

    from trueup.cli.main import main  # noqa: PLC0415
    from trueup.lineage.replay.judging import Judge  # noqa: PLC0415

    judged = Judge.of

    def slow(self: Judge, *told: Any) -> Any:
        time.sleep(float(os.environ[SECONDS]))
        if os.environ[JUDGED]:
            with Path(os.environ[JUDGED]).open("a") as log:
                log.write("one\n")
        return judged(self, *told)

    Judge.of = slow  # type: ignore[method-assign]
    return main()


if __name__ == "__main__":
    sys.exit(_main())
