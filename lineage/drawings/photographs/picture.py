"""A picture as the camera took it: its pixels, and how much light they stand for."""

from dataclasses import dataclass
from functools import cached_property

import cv2
import numpy as np
from numpy.typing import NDArray

from trueup.lineage.drawings.photographs.view import Places

_CODED = np.arange(256) / 255
_LIGHT = np.where(_CODED <= 0.04045, _CODED / 12.92, ((_CODED + 0.055) / 1.055) ** 2.4)
"""Light by its code in sRGB (IEC 61966-2-1): what blurs is light, not its code."""
_LIGHT = _LIGHT.astype(np.float32)


@dataclass(frozen=True)
class Picture:
    """Rows of pixels, each red, green and blue, 8 bits."""

    pixels: NDArray[np.uint8]

    @property
    def width(self) -> int:
        """Return how many pixels a row has."""
        return int(self.pixels.shape[1])

    @property
    def height(self) -> int:
        """Return how many rows there are."""
        return int(self.pixels.shape[0])

    @cached_property
    def grey(self) -> NDArray[np.uint8]:
        """Return the picture without colours."""
        return np.asarray(cv2.cvtColor(self.pixels, cv2.COLOR_RGB2GRAY), dtype=np.uint8)

    def light(self, places: Places) -> NDArray[np.float32]:
        """Return red, green and blue light at places in pixels, between 0 and 1.

        Between pixels it is told in proportion; outside the picture it is that of its border.
        """
        x = np.clip(places.real, 0, self.width - 1.001)
        y = np.clip(places.imag, 0, self.height - 1.001)
        left, top = x.astype(np.intp), y.astype(np.intp)
        across, down = (x - left)[..., None], (y - top)[..., None]
        found = np.zeros((*places.shape, 3), np.float32)
        for below, share_down in ((0, 1 - down), (1, down)):
            for right, share_across in ((0, 1 - across), (1, across)):
                there = _LIGHT[self.pixels[top + below, left + right]]
                found += there * (share_down * share_across).astype(np.float32)
        return found
