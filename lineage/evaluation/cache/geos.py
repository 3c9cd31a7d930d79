"""Which GEOS it is that shapely computes with: asked of the library itself, without shapely.

Loading shapely, and numpy with it, takes longer than any verb that reads; what was kept is believed
only where this version is known.
"""

import ctypes
from importlib import metadata
from importlib.machinery import EXTENSION_SUFFIXES
from pathlib import Path


def geos() -> str:
    """Return the version of GEOS; raises PackageNotFoundError where shapely is not installed."""
    place = Path(str(metadata.distribution("shapely").locate_file("shapely")))
    for suffix in EXTENSION_SUFFIXES:
        try:
            # What shapely's own part is linked with comes with it.
            told = ctypes.CDLL(str(place / f"lib{suffix}")).GEOSversion
        except (OSError, AttributeError):
            continue
        told.restype = ctypes.c_char_p
        return str(told().decode())
    import shapely  # noqa: PLC0415  (where a library does not show what it is linked with)

    return str(shapely.geos_capi_version_string)
