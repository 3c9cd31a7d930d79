"""Cloth that one of two pieces has and the other has not."""

from dataclasses import dataclass
from functools import lru_cache

import shapely
from shapely.geometry.base import BaseGeometry

from trueup.geometry.tolerance import SAME_POINT, UNCHANGED


@dataclass(frozen=True)
class OwnCloth:
    """What only one of two pieces has: where all that is `more` is also `broad`, polygons both.

    What is narrower than a move that counts is the noise of two flattened lines, and not `broad`;
    but that is rounded at its corners, and may reach beyond by a thousandth of a millimetre. The
    two are not laid into one: their outlines all but coincide, which takes shapely longest.
    """

    more: BaseGeometry
    broad: BaseGeometry

    @property
    def is_empty(self) -> bool:
        """Return whether there is none."""
        return bool(self.broad.is_empty)


NOTHING = OwnCloth(shapely.Polygon(), shapely.Polygon())


@lru_cache(maxsize=64)
def own_cloth(piece: shapely.Polygon, other: shapely.Polygon) -> OwnCloth:
    """Return the cloth that a piece has and another has not."""
    if shapely.equals_exact(piece, other, SAME_POINT):
        return NOTHING
    more = shapely.difference(piece, other)
    return OwnCloth(more, more.buffer(-UNCHANGED / 2).buffer(UNCHANGED / 2))
