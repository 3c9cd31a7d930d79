"""What lies on the table and is neither table nor strip: the picture seen from straight above.

The table is known from a ring round each strip, where nothing else may lie, and its colour between
them follows smoothly, as light falls off. What differs from it is a piece. Lengths in mm.
"""

from dataclasses import dataclass

import cv2
import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPoint, Polygon

from trueup.geometry.lines.points import coordinates
from trueup.lineage.drawings.photographs.frame.solving import Solved, Strips
from trueup.lineage.drawings.photographs.frame.strips import OUTLINE
from trueup.lineage.drawings.photographs.picture import Picture
from trueup.lineage.drawings.photographs.view import Places

GRAIN = 0.5
"""A pixel of the table as it is looked at from above."""

BEYOND = 40.0
"""A piece may reach beyond the markers by so much: as far the view of the table is still right."""

RING = (4.0, 12.0)
"""From there to there round a strip lies bare table: a strip that curls throws a shadow nearer."""

COVER = 2.5
"""Strips are left out with so much round them."""

_ROWS = 256
_DIFFERS = 5.0
"""What differs so many times as much as the table does of itself is not table."""

_ENOUGH = 20_000
"""Of so many pixels the colour of the table is told well."""

_CRUMB = 20.0
"""mm²; what is smaller is no piece, and not looked at further."""

_LEAST_NOISE = 0.7
"""Of lightness or colour in CIELAB: JPEG leaves as much on the evenest table."""


@dataclass(frozen=True)
class Ground:
    """The table from above: `corner` is where its first pixel lies, mm.

    `covered` is True where something lies, `known` where the picture shows the table at all.
    `within` is what the frame reaches round.
    """

    corner: complex
    covered: NDArray[np.bool_]
    known: NDArray[np.bool_]
    strips: dict[int, Polygon]
    within: Polygon

    def drawn(self, area: shapely.Geometry) -> NDArray[np.bool_]:
        """Return which pixels an area of the table has."""
        return _filled(area, self.corner, self.covered.shape)

    def on_table(self, pixels: Places) -> Places:
        """Return where pixels lie on the table."""
        return np.asarray(self.corner + pixels * GRAIN)


def ground(picture: Picture, found: Solved, seen: Strips, scale: float) -> Ground:
    """Return what lies on the table."""
    outline = np.array(OUTLINE, dtype=np.complex128) * scale
    strips = {n: _polygon(found.on_table(n, outline)) for n in seen}
    middles = [found.view.laid(np.array(list(each.values())).ravel()) for each in seen.values()]
    within = MultiPoint(coordinates(np.concatenate(middles).tolist())).convex_hull
    left, top, right, bottom = within.buffer(BEYOND).bounds
    corner = complex(left, top)
    shape = (int((bottom - top) / GRAIN) + 1, int((right - left) / GRAIN) + 1)
    above, known = _from_above(picture, found, corner, shape)
    rings = [each.buffer(RING[1]).difference(each.buffer(RING[0])) for each in strips.values()]
    paper = shapely.union_all([each.buffer(RING[0]) for each in strips.values()])
    bare = _filled(shapely.union_all(rings).difference(paper), corner, shape) & known
    covered = _covered(_differences(above, bare)) & known
    paper = shapely.union_all([each.buffer(COVER) for each in strips.values()])
    covered &= ~_filled(paper, corner, shape)
    covered &= _filled(within.buffer(BEYOND), corner, shape)
    return Ground(corner, covered, known, strips, within)


def _from_above(
    picture: Picture, found: Solved, corner: complex, shape: tuple[int, int]
) -> tuple[NDArray[np.float32], NDArray[np.bool_]]:
    """Return the table from above in CIELAB, and which of its pixels the picture shows."""
    above = np.zeros((*shape, 3), np.float32)
    known = np.zeros(shape, np.bool_)
    across = np.arange(shape[1]) * GRAIN
    for first in range(0, shape[0], _ROWS):
        rows = np.arange(first, min(first + _ROWS, shape[0]))
        places = found.view.seen(corner + across[None, :] + 1j * GRAIN * rows[:, None])
        x, y = places.real.astype(np.float32), places.imag.astype(np.float32)
        known[rows] = (x >= 0) & (y >= 0) & (x < picture.width - 1) & (y < picture.height - 1)
        taken = cv2.remap(picture.pixels, x, y, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
        above[rows] = cv2.cvtColor(taken.astype(np.float32) / 255, cv2.COLOR_RGB2LAB)
    return cv2.blur(above, (3, 3)).astype(np.float32), known


def _covered(differs: NDArray[np.float32]) -> NDArray[np.bool_]:
    """Return which pixels are nearer to what lies there than to the table."""
    seeds = (differs > _DIFFERS).astype(np.uint8)
    count, numbers, about, _ = cv2.connectedComponentsWithStats(seeds, connectivity=4)
    least = np.full(count, np.inf, np.float32)
    for number in range(1, count):
        left, top, wide, high, size = (int(each) for each in about[number])
        if size * GRAIN**2 < _CRUMB:
            continue
        rows, columns = slice(top, top + high), slice(left, left + wide)
        here = differs[rows, columns][numbers[rows, columns] == number]
        least[number] = max(_DIFFERS, float(np.median(here)) / 2)
    return np.asarray(differs > least[numbers])


def _differences(above: NDArray[np.float32], bare: NDArray[np.bool_]) -> NDArray[np.float32]:
    """Return how many times as much as the table does pixels differ from what it would be there."""
    rows, columns = (each[:: max(1, len(each) // _ENOUGH)] for each in np.nonzero(bare))
    high, wide = bare.shape
    colours = above[rows, columns]
    terms = _terms(columns / wide, rows / high)
    weight = np.ones(len(rows))
    for _ in range(5):
        held = terms * weight[:, None]
        shares = np.linalg.lstsq(held, colours * weight[:, None], rcond=None)[0]
        off = np.abs(colours - terms @ shares)
        noise = np.maximum(1.4826 * np.median(off, axis=0), _LEAST_NOISE)
        weight = 1.0 / (1.0 + ((off / (3 * noise)) ** 2).max(axis=1))
    differs = np.zeros(bare.shape, np.float32)
    for first in range(0, high, _ROWS):
        y, x = np.mgrid[first : min(first + _ROWS, high), 0:wide]
        usual = _terms(x.ravel() / wide, y.ravel() / high) @ shares
        away = (above[first : first + _ROWS].reshape(-1, 3) - usual) / noise
        differs[first : first + _ROWS] = np.sqrt((away**2).sum(axis=1)).reshape(y.shape)
    return differs


def _terms(x: NDArray[np.float64], y: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=1)


def _filled(area: shapely.Geometry, corner: complex, shape: tuple[int, int]) -> NDArray[np.bool_]:
    drawn = np.zeros(shape, np.uint8)
    for part in shapely.get_parts(area):
        if not isinstance(part, Polygon) or part.is_empty:
            continue
        rings = [
            np.round((np.array(ring.coords) - (corner.real, corner.imag)) / GRAIN).astype(np.int32)
            for ring in (part.exterior, *part.interiors)
        ]
        cv2.fillPoly(drawn, rings, 1)
    return drawn.astype(np.bool_)


def _polygon(corners: Places) -> Polygon:
    return Polygon(coordinates(corners.tolist()))
