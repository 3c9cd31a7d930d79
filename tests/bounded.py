"""A process of its own that may hang or fill the memory, so that a test of that ends all the same.

The patience is no measure of speed: it is far longer than anything takes that comes to an end.
"""

import os
import resource
import subprocess
import sys
import textwrap
from pathlib import Path

from tests.checkout import IMPORTS

ROOT = Path(__file__).parents[1]
SPACE = 2**30  # bytes
PATIENCE = 120.0  # seconds

Done = subprocess.CompletedProcess[str]


def bounded(*words: str, space: int = SPACE) -> Done:
    """Run Python with these words in so much address space, and every git it starts as well."""

    def limited() -> None:
        resource.setrlimit(resource.RLIMIT_AS, (space, space))

    environment = {**os.environ, "PYTHONPATH": IMPORTS, "OPENBLAS_NUM_THREADS": "1"}
    return subprocess.run(
        [sys.executable, *words],
        env=environment,
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=PATIENCE,
        check=False,
        preexec_fn=limited,
    )


def trueup(folder: Path, *words: str) -> Done:
    """Run the command within bounds."""
    return bounded("-m", "trueup.cli", "-C", str(folder), *words)


def python(lines: str, *words: str) -> str:
    """Run lines of Python within bounds; return what they print."""
    done = bounded("-c", textwrap.dedent(lines), *words)
    assert done.returncode == 0, done.stderr
    return done.stdout
