"""Which program it is that reads and evaluates: its own code and the libraries it computes with.

What one version of the program kept in the cache is nothing to another: its geometry may measure
otherwise, its records may hold more. A number to be raised by hand would be forgotten, and so
would a list of modules.

Between machines the program is told by its code, to the letter. On one machine, where every
command has to tell it, by how its files look: what was written since looks otherwise. Python itself
believes less than that of the code it keeps compiled (PEP 552: seconds and size), so a change that
this would miss would not run either.
"""

import hashlib
import os
import platform
import sys
from collections.abc import Callable, Iterator
from functools import lru_cache
from operator import attrgetter
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
    """Return 32 bytes that another state of the program would not have, on any machine.

    None where the program cannot tell its own state, for want of its sources or of the versions
    of its libraries.
    """
    return _told(code_of)


@lru_cache(maxsize=1)
def program_here() -> bytes | None:
    """Return 32 bytes that another state of the program on this machine would not have, or None.

    The same program installed twice has two.
    """
    return _told(looks_of)


def _told(own: Callable[[Path], bytes]) -> bytes | None:
    try:
        told = [*_machinery(), *said_of(LIBRARIES)]
        return hashlib.sha256(own(_ROOT) + "\0".join(told).encode()).digest()
    except (OSError, ImportError):  # a library that is not there is either
        return None


def code_of(root: Path) -> bytes:
    """Return the digest of the code under a folder; raises OSError where it cannot be read."""
    digest = hashlib.sha256()
    for file in _sources(root):
        with open(file.path, "rb", buffering=0) as opened:
            content = opened.read()
        digest.update(f"{file.path[len(str(root)) :]}\0{len(content)}\0".encode())
        digest.update(content)
    return digest.digest()


def looks_of(root: Path) -> bytes:
    """Return the digest of how the code under a folder looks; raises OSError."""
    looks = []
    for file in _sources(root):
        seen = file.stat()
        looks.append(
            f"{file.path}\0{seen.st_size} {seen.st_mtime_ns} {seen.st_ctime_ns} {seen.st_ino}\0"
        )
    return hashlib.sha256("".join(looks).encode(errors="surrogateescape")).digest()


def _sources(root: Path) -> Iterator[os.DirEntry[str]]:
    """Yield the files of code of all floors in order; raises OSError where one has none."""
    for floor in FLOORS:
        found = sorted(_below(root / floor), key=attrgetter("path"))
        if not found:
            raise FileNotFoundError(root / floor)
        yield from found


def _below(folder: str | Path) -> Iterator[os.DirEntry[str]]:
    # Every command looks at them all; by `Path.glob` that takes several times as long.
    with os.scandir(folder) as entries:
        for each in entries:
            if each.is_dir(follow_symlinks=False):
                yield from _below(each.path)
            elif each.name.endswith(".py"):
                yield each


def _machinery() -> tuple[str, ...]:
    """Return the versions of what no distribution's version tells."""
    return (sys.version, platform.machine(), geos(), EXPAT_VERSION)
