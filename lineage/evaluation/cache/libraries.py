"""What the libraries are that geometry is computed with, told without loading any of them.

Loading shapely, and numpy with it, takes longer than any verb that reads, and so would
`importlib.metadata` on the way to a version.
"""

import os
import sys
from collections.abc import Iterable
from importlib.machinery import EXTENSION_SUFFIXES, PathFinder


def said_of(libraries: Iterable[str]) -> list[str]:
    """Return all that is said of installed libraries: their versions, and much that goes with it.

    Raises PackageNotFoundError, an ImportError, for one of which nothing is.
    """
    installed: dict[str, str] = {}
    for folder in filter(os.path.isdir, sys.path):
        for name in sorted(os.listdir(folder)):
            if name.endswith(".dist-info"):
                library = name.partition("-")[0].lower()
                installed.setdefault(library, os.path.join(folder, name, "METADATA"))
    # Taken whole: to look for the version in it takes longer than everything else here.
    return [
        _read(installed.get(name.replace("-", "_"), "")) or _of_another_form(name)
        for name in libraries
    ]


def _read(path: str) -> str:
    if not path:
        return ""
    with open(path, encoding="utf-8") as file:
        return file.read()


def _of_another_form(library: str) -> str:
    """Return what is said of a library that was not installed from a wheel."""
    from importlib import metadata  # noqa: PLC0415

    found = metadata.distribution(library)
    said = found.read_text("METADATA") or found.read_text("PKG-INFO")
    if not said:
        raise metadata.PackageNotFoundError(library)
    return said


def geos() -> str:
    """Return what tells the GEOS that shapely computes with from any other.

    A shapely that brings its own has it in a folder beside it, each file with a digest in its name;
    any other is asked for its version. Raises ModuleNotFoundError where shapely is not installed.
    """
    found = PathFinder.find_spec("shapely")
    for place in (found and found.submodule_search_locations) or ():
        if os.path.isdir(beside := f"{place}.libs"):
            return " ".join(sorted(os.listdir(beside)))
        import ctypes  # noqa: PLC0415  (seldom needed)

        for suffix in EXTENSION_SUFFIXES:
            try:
                # What shapely's own part is linked with comes with it.
                told = ctypes.CDLL(os.path.join(place, f"lib{suffix}")).GEOSversion
            except (OSError, AttributeError):
                continue
            told.restype = ctypes.c_char_p
            return str(told().decode())
    import shapely  # noqa: PLC0415  (where a library does not show what it is linked with)

    return str(shapely.geos_capi_version_string)
