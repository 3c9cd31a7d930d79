"""The frame that is laid round a pattern: strips of paper with square markers. Lengths in mm.

A strip is what stays together: where its markers lie on it is known, where the strip lies on the
table is not, and is worked out from the photograph. So no strip has to be laid square to another
or at a distance, and a large pattern takes more strips, not larger ones.

Source of the markers: S. Garrido-Jurado, R. Muñoz-Salinas, F. J. Madrid-Cuevas, M. J.
Marín-Jiménez, "Automatic generation and detection of highly reliable fiducial markers under
occlusion", Pattern Recognition 47 (2014); the first of the dictionary that OpenCV has as
DICT_5X5_100.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from trueup.geometry.lines.points import Point

STRIPS = 12
"""Two for each corner of a piece, and four more for long sides."""

MARKERS = 6
"""On each strip."""

SIDE = 25.0
"""A marker is so wide and high."""

PITCH = 41.0
"""From one marker of a strip to the next: between them stays white what sets them off."""

REACH = (MARKERS - 1) * PITCH + SIDE
"""From the outer side of the first marker to that of the last, which a maker can measure."""

LENGTH = 250.0
HEIGHT = 36.0
"""A strip as it is cut: as long as the narrower of A4 and Letter holds between its margins."""

_LEFT = (LENGTH - REACH) / 2
_TOP = (HEIGHT - SIDE) / 2


@dataclass(frozen=True)
class Marker:
    """A marker: its number in the dictionary, and its upper left corner on its strip."""

    number: int
    at: Point

    @property
    def corners(self) -> tuple[Point, ...]:
        """Return its corners on the strip, clockwise from the upper left, as they are found."""
        return tuple(self.at + SIDE * way for way in (0, 1, 1 + 1j, 1j))


def markers_of(strip: int) -> tuple[Marker, ...]:
    """Return the markers of a strip, which is counted from 1, from left to right."""
    first = (strip - 1) * MARKERS
    return tuple(Marker(first + n, complex(_LEFT + n * PITCH, _TOP)) for n in range(MARKERS))


def strip_of(number: int) -> int | None:
    """Return the strip on which a marker is, None for a marker of no strip."""
    return number // MARKERS + 1 if 0 <= number < STRIPS * MARKERS else None


OUTLINE: Sequence[Point] = (0j, LENGTH + 0j, complex(LENGTH, HEIGHT), HEIGHT * 1j)
"""The corners of a strip as it is cut, from the upper left, clockwise."""
