"""The live page on a machine on which every pattern takes its time: run as a program of its own."""

import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tests.live.running import Running, running

SECONDS = "TRUEUP_TESTS_SLOW"


@contextmanager
def slowly(folder: Path, seconds: float) -> Iterator[Running]:
    """Serve a wardrobe; what becomes of a step in a pattern takes so many seconds more."""
    with running(folder, "--no-browser", module="tests.live.slow", **{SECONDS: str(seconds)}) as it:
        yield it


def _main() -> int:
    import os  # noqa: PLC0415

    from trueup.cli.main import main  # noqa: PLC0415
    from trueup.lineage.replay.judging import Judge  # noqa: PLC0415

    judged = Judge.of

    def slow(self: Judge, *told: Any) -> Any:
        time.sleep(float(os.environ[SECONDS]))
        return judged(self, *told)

    Judge.of = slow  # type: ignore[method-assign]
    return main()


if __name__ == "__main__":
    sys.exit(_main())
