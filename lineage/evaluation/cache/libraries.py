"""What the libraries are that geometry is computed with, told without loading any of them.

Loading shapely, and numpy with it, takes longer than any verb that reads, and so would
`importlib.metadata` on the way to a version.
"""

import ctypes
import os
import sys
from importlib.machinery import EXTENSION_SUFFIXES, PathFinder


def said_of(library: str) -> str:
    """Return all that is said of an installed library: its version, and much that goes with it.

    Raises PackageNotFoundError, an ImportError, where nothing is.
    """
    # Taken whole: to look for the version in it takes longer than everything else here.
    begins = f"{library.replace('-', '_')}-"
    for folder in filter(os.path.isdir, sys.path):
        names = sorted(each for each in os.listdir(folder) if _is_of(each, begins))
        for name in names:
            with open(os.path.join(folder, name, "METADATA"), encoding="utf-8") as file:
                return file.read()
    return _of_another_form(library)


def _is_of(name: str, begins: str) -> bool:
    return name.lower().startswith(begins) and name.endswith(".dist-info")


def _of_another_form(library: str) -> str:
    """Return what is said of a library that was not installed from a wheel."""
    from importlib import metadata  # noqa: PLC0415

    found = metadata.distribution(library)
    said = found.read_text("METADATA") or found.read_text("PKG-INFO")
    if not said:
        raise metadata.PackageNotFoundError(library)
    return said


def geos() -> str:
    """Return the version of the GEOS that shapely computes with, as the library itself tells it.

    Raises ModuleNotFoundError where shapely is not installed.
    """
    found = PathFinder.find_spec("shapely")
    for place in (found and found.submodule_search_locations) or ():
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
