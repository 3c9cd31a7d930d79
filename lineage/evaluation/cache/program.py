"""Which program it is that reads and evaluates: its own code and the libraries it computes with.

What one version of the program kept in the cache is nothing to another: its geometry may measure
otherwise, its records may hold more. A number to be raised by hand would be forgotten, and so
would a list of modules.
"""

import hashlib
import platform
import sys
from functools import lru_cache
from importlib import metadata
from pathlib import Path
from xml.parsers.expat import EXPAT_VERSION

from trueup.lineage.evaluation.cache.geos import geos

FLOORS = ("geometry", "lineage")
"""The folders whose code can change an answer. All of it counts, whatever imports what."""

LIBRARIES = (*("defusedxml", "fonttools", "msgspec", "numpy", "shapely", "tomli", "tomlkit"),)
"""The distributions whose code can change an answer."""

_ROOT = Path(__file__).parents[3]


@lru_cache(maxsize=1)
def program() -> bytes | None:
    """Return 32 bytes that another state of the program would not have.

    None where the program cannot tell its own state, for want of its sources or of the versions
    of its libraries.
    """
    try:
        told = [*_machinery(), *(_said_of(name) for name in LIBRARIES)]
        return hashlib.sha256(code_of(_ROOT) + "\0".join(told).encode()).digest()
    except (OSError, metadata.PackageNotFoundError):
        return None


def code_of(root: Path) -> bytes:
    """Return the digest of the code under a folder; raises OSError where it cannot be read."""
    digest = hashlib.sha256()
    for floor in FLOORS:
        files = sorted((root / floor).glob("**/*.py"))
        if not files:
            raise FileNotFoundError(root / floor)
        for path in files:
            content = path.read_bytes()
            digest.update(f"{str(path)[len(str(root)) :]}\0{len(content)}\0".encode())
            digest.update(content)
    return digest.digest()


def _said_of(library: str) -> str:
    """Return all that is said of an installed library: its version, and much that goes with it."""
    # Taken whole: to look for the version in it takes longer than everything else here.
    found = metadata.distribution(library)
    said = found.read_text("METADATA") or found.read_text("PKG-INFO")
    if not said:
        raise metadata.PackageNotFoundError(library)
    return said


def _machinery() -> tuple[str, ...]:
    """Return the versions of what no distribution's version tells."""
    return (sys.version, platform.machine(), geos(), EXPAT_VERSION)
