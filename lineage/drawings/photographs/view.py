"""How a camera sees a flat table: from mm on the table to pixels of the picture, and back.

The camera is a pinhole with radial distortion about a centre near the middle of the picture. From a
single picture of a flat table its focal length cannot be told, and need not be: a homography has
all there is. Places on the table and in the picture are arrays of complex numbers.

Source: D. C. Brown, "Close-range camera calibration", Photogrammetric Engineering 37 (1971); R.
Hartley and A. Zisserman, "Multiple View Geometry in Computer Vision" (2nd ed., 2004), chapters 2
and 7.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Places = NDArray[np.complex128]

_STEPS = 20


def one(place: complex) -> Places:
    """Return a single place as an array."""
    return np.array([place])


@dataclass(frozen=True)
class TableView:
    """One picture: its size in pixels, and how the camera that took it sees the table.

    `ways` are the nine numbers of the homography, row by row, from hundreds of mm to half diagonals
    from the middle of the picture; `centre` is where the lens bends nothing, and `radial` by how
    much it does at a half diagonal and its square.
    """

    width: int
    height: int
    ways: tuple[float, ...]
    radial: tuple[float, float] = (0.0, 0.0)
    centre: complex = 0j

    @property
    def middle(self) -> complex:
        """Return the middle of the picture in pixels; the first pixel's own middle is nought."""
        return complex(self.width - 1, self.height - 1) / 2

    @property
    def half(self) -> float:
        """Return half the diagonal, pixels."""
        return abs(complex(self.width, self.height)) / 2

    def seen(self, table: Places) -> Places:
        """Return where places on the table, mm, are seen in the picture, pixels."""
        flat = _through(self.ways, table / 100)
        away = flat - self.centre
        square = away.real**2 + away.imag**2
        bent = self.centre + away * (1 + square * (self.radial[0] + square * self.radial[1]))
        return np.asarray(self.middle + self.half * bent)

    def laid(self, picture: Places) -> Places:
        """Return where on the table, mm, places of the picture lie."""
        bent = (picture - self.middle) / self.half - self.centre
        reach = np.abs(bent)
        # How far it would be from the centre through a lens that bends nothing: by Newton's rule.
        flat = reach.copy()
        for _ in range(_STEPS):
            square = flat**2
            value = flat * (1 + square * (self.radial[0] + square * self.radial[1])) - reach
            slope = 1 + square * (3 * self.radial[0] + 5 * square * self.radial[1])
            flat = flat - value / np.maximum(slope, 0.1)
        away = bent * np.divide(flat, reach, out=np.ones_like(reach), where=reach > 0)
        back = np.linalg.inv(np.array(self.ways).reshape(3, 3)).ravel()
        return _through(tuple(back), self.centre + away) * 100


def _through(ways: tuple[float, ...], places: Places) -> Places:
    a, b, c, d, e, f, g, h, i = ways
    x, y = places.real, places.imag
    depth = g * x + h * y + i
    return np.asarray(((a * x + b * y + c) + 1j * (d * x + e * y + f)) / depth)
