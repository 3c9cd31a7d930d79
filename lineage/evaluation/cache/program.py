"""Which program it is that reads and evaluates: its own code and the libraries it computes with.

What one version of the program kept in the cache is nothing to another: its geometry may measure
otherwise, its records may hold more. A number to be raised by hand would be forgotten, and so
would a list of modules.
"""

import hashlib
import os
import platform
import sys
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from xml.parsers.expat import EXPAT_VERSION

from trueup.lineage.evaluation.cache.libraries import geos, said_of

FLOORS = ("geometry", "lineage")
"""The folders whose code can change an answer. All of it counts, whatever imports what."""

LIBRARIES = (*("defusedxml", "fonttools", "msgspec", "numpy", "shapely", "tomli"),)
"""The distributions whose code can change an answer."""

_ROOT = Path(__file__).parents[3]


@lru_cache(maxsize=1)
def program() -> bytes | None:
    """Return 32 bytes that another state of the program would not have.

    None where the program cannot tell its own state, for want of its sources or of the versions
    of its libraries.
    """
    try:
        told = [*_machinery(), *said_of(LIBRARIES)]
        return hashlib.sha256(code_of(_ROOT) + "\0".join(told).encode()).digest()
    except (OSError, ImportError):  # a library that is not there is either
        return None


def code_of(root: Path) -> bytes:
    """Return the digest of the code under a folder; raises OSError where it cannot be read."""
    digest = hashlib.sha256()
    for floor in FLOORS:
        files = sorted(_sources(root / floor))
        if not files:
            raise FileNotFoundError(root / floor)
        for path in files:
            with open(path, "rb", buffering=0) as file:
                content = file.read()
            digest.update(f"{path[len(str(root)) :]}\0{len(content)}\0".encode())
            digest.update(content)
    return digest.digest()


def _sources(floor: Path) -> Iterator[str]:
    # Every command reads them all; by `Path.glob` that takes twice as long.
    for folder, _, names in os.walk(floor):
        yield from (os.path.join(folder, name) for name in names if name.endswith(".py"))


def _machinery() -> tuple[str, ...]:
    """Return the versions of what no distribution's version tells."""
    return (sys.version, platform.machine(), geos(), EXPAT_VERSION)
