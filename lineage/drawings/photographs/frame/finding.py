"""The markers of the frame in a picture, and their corners to a fraction of a pixel."""

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from trueup.lineage.drawings.photographs.frame.dictionary import dictionary
from trueup.lineage.drawings.photographs.picture import Picture
from trueup.lineage.drawings.photographs.view import Places

_PROFILES = 12
"""Across each side of a marker the picture is looked at in so many places."""

_STEPS = 41
"""... and there at so many places from inside to outside."""

_CELLS = 7
"""A marker is so many cells wide; the outermost are black, and around it as much is white."""

_REACH = 0.85
"""... which lie so many cells from the side at most."""

_INSET = 0.12
"""The corners themselves are left out by this share of a side: there light spreads round them."""


@dataclass(frozen=True)
class SeenMarker:
    """A marker in the picture: its number, its corners in pixels, how soft its edges are.

    Corners go clockwise from the one that is upper left on the paper. `spread` is over how many
    pixels the light rises from a quarter to three at its sides.
    """

    number: int
    corners: tuple[complex, complex, complex, complex]
    spread: float


def markers_in(picture: Picture) -> list[SeenMarker]:
    """Return the markers of a picture; one that is seen twice is told twice."""
    settings = cv2.aruco.DetectorParameters()
    settings.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
    detector = cv2.aruco.ArucoDetector(dictionary(), settings)
    found, numbers, _ = detector.detectMarkers(picture.grey)
    if numbers is None or len(numbers) == 0:
        return []
    rough = np.array([each.reshape(4, 2) for each in found], dtype=np.float64)
    corners, spread = _refined(picture, rough[..., 0] + 1j * rough[..., 1])
    return [
        SeenMarker(int(number), tuple(corners[k].tolist()), float(spread[k]))
        for k, number in enumerate(np.ravel(numbers))
    ]


def _refined(picture: Picture, rough: Places) -> tuple[Places, NDArray[np.float64]]:
    """Return corners where lines along the sides meet, and how softly the sides are seen.

    A side lies where as much light is missing inside of it as there is too much outside.
    """
    sides = np.roll(rough, -1, axis=1) - rough
    along = sides / np.abs(sides)
    out = -1j * along
    reach = _REACH * np.abs(sides) / _CELLS
    stations = np.abs(sides)[..., None] * np.linspace(_INSET, 1 - _INSET, _PROFILES)
    steps = np.linspace(-1.0, 1.0, _STEPS)
    at = (
        rough[..., None, None]
        + along[..., None, None] * stations[..., None]
        + out[..., None, None] * reach[..., None, None] * steps
    )
    light = picture.light(at).mean(axis=-1)
    third = _STEPS // 3
    black = np.median(light[..., :third], axis=(-2, -1))
    white = np.median(light[..., -third:], axis=(-2, -1))
    contrast = np.maximum(white - black, 1e-3)
    share = (light - black[..., None, None]) / contrast[..., None, None]
    aside = reach[..., None] * (1.0 - np.trapezoid(share, steps, axis=-1))
    start, slope = _line(stations, aside)
    # A line along a side: from a point of it in a direction.
    points, ways = rough + out * start, along + out * slope
    before, way = np.roll(points, 1, axis=1), np.roll(ways, 1, axis=1)
    across = (ways * np.conj(way)).imag
    back = ((points - before) * np.conj(way)).imag / across
    corners = points - ways * back
    away = np.abs(corners - rough)
    # Where a side is covered the lines tell nothing, and the corner stays as it was found.
    settled = np.where(away < reach, corners, rough)
    return settled, _spread(share, reach, steps).mean(axis=1)


def _line(
    stations: NDArray[np.float64], aside: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return start and slope of the line through places beside each side, stray ones left out."""
    weight = np.ones_like(aside)
    for _ in range(3):
        total = weight.sum(axis=-1)
        middle = (weight * stations).sum(axis=-1) / total
        mean = (weight * aside).sum(axis=-1) / total
        apart = stations - middle[..., None]
        slope = (weight * apart * (aside - mean[..., None])).sum(axis=-1) / (
            (weight * apart**2).sum(axis=-1) + 1e-9
        )
        start = mean - slope * middle
        off = np.abs(aside - start[..., None] - slope[..., None] * stations)
        usual = np.median(off, axis=-1, keepdims=True) + 1e-3
        weight = 1.0 / (1.0 + (off / (2.5 * usual)) ** 4)
    return start, slope


def _spread(
    share: NDArray[np.float64], reach: NDArray[np.float64], steps: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return over how many pixels the light rises from a quarter to three, along each side."""
    rise = np.median(share, axis=-2)
    between = ((rise > 0.25) & (rise < 0.75)).sum(axis=-1)
    return np.asarray(between * (steps[1] - steps[0]) * reach)
