"""The dictionary that the frame's markers are of, and whether the library that has it is there.

OpenCV is an extra: who traces no photograph need not have it. Every other module of this room that
looks at pictures imports it, and is itself imported only after it was asked for here.
"""

import functools
from importlib.util import find_spec
from typing import TYPE_CHECKING

from trueup.lineage.drawings.photographs.errors import LibraryMissing

if TYPE_CHECKING:
    from cv2.aruco import Dictionary


def require_library() -> None:
    """Raise LibraryMissing unless OpenCV, and scipy with it, can be imported."""
    if find_spec("cv2") is None or find_spec("scipy") is None:
        raise LibraryMissing


@functools.cache
def dictionary() -> "Dictionary":
    """Return the dictionary of the frame; raises LibraryMissing."""
    require_library()
    from cv2 import aruco  # noqa: PLC0415

    return aruco.getPredefinedDictionary(aruco.DICT_5X5_100)


def cells(number: int) -> tuple[tuple[bool, ...], ...]:
    """Return the cells of a marker row by row, its border included: True where it is black.

    Raises LibraryMissing.
    """
    found = dictionary()
    across = found.markerSize + 2
    drawn = found.generateImageMarker(number, across)
    return tuple(tuple(bool(each < 128) for each in row) for row in drawn.tolist())
