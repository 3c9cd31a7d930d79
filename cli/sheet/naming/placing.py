"""Find places for words on a piece where they overlap nothing. Lengths in mm, y down."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray

from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.sheet.ink.drawn import InkPen, InkWords, Stroke
from trueup.cli.sheet.laying.layout import Laid
from trueup.cli.sheet.laying.tiles import OVERLAP, Tile
from trueup.geometry.lines.points import Point, coordinates
from trueup.geometry.lines.polygons import polyline

CLEAR = 1.2
"""Words keep this far from lines and from each other."""

_RIM = OVERLAP + 1.0
"""... and this far from the sides at which sheets are glued, where crosses stand."""

_STEP = 2.0
_ASIDE = (0.0, 2.5, 5.0, 8.0, 12.0)
"""So much farther from their line than need be words are tried, one after the other."""

_FARTHER_COUNTS = 3.0
"""A mm away from the line is as bad as so many along it."""

_NEAR = 40.0
"""Words are tried so near to the best place first, mm, and only then all along their line."""

_ROUND = 3
"""In so few steps a line is led round at a clearance."""

_UPWARDS = 1e-6


@dataclass(frozen=True)
class Wording:
    """Words that belong to a line, on the area: at its sides, or on it where it is not drawn.

    `sides` are the factors that turn the direction of the line to where they may stand: nought is
    on the line itself. They stand as near as can be to the share `at` of the line, written along it
    or across the page, in the first of the sizes at which there is room.
    """

    text: str
    line: tuple[Point, ...]
    sides: tuple[complex, ...]
    sizes: tuple[float, ...]
    at: float = 0.5
    is_along: bool = True
    on_each_sheet: bool = False


@dataclass(frozen=True)
class _Places:
    """Boxes in which words of a size could stand, the best first, and where the words begin."""

    boxes: NDArray[np.object_]
    begins: NDArray[np.complex128]
    ways: NDArray[np.complex128]
    stations: NDArray[np.float64]
    asides: NDArray[np.float64]


class Room:
    """The room for words on a piece in its place; what is written takes of it."""

    def __init__(self, laid: Laid, strokes: Sequence[Stroke], tiles: Sequence[Tile]) -> None:
        self._laid, self._strokes = laid, strokes
        shown = [tile for tile in tiles if tile.window.polygon.intersects(laid.cloth)]
        self.sheets = tuple(_for_words(tile.window, tiles) for tile in shown or tiles)
        self._taken: list[shapely.Geometry] = []

    @cached_property
    def free(self) -> shapely.Geometry:
        """Return the cloth away from all lines."""
        lines = [polyline(each.points) for each in self._strokes if each.pen is not InkPen.CHANGED]
        drawn = shapely.union_all([shapely.MultiLineString(lines), self._laid.changed])
        around = drawn.buffer(CLEAR, quad_segs=_ROUND)
        free = self._laid.cloth.buffer(-CLEAR, quad_segs=_ROUND).difference(around)
        shapely.prepare(free)
        return free

    @property
    def taken(self) -> shapely.Geometry:
        """Return where words stand."""
        return shapely.union_all(self._taken) if self._taken else shapely.Polygon()

    def take(self, words: InkWords) -> None:
        """Keep others away from words that stand."""
        self._taken.append(room_of(words).buffer(CLEAR, join_style="mitre"))

    def written(self, wording: Wording) -> Iterator[InkWords]:
        """Yield words where they overlap nothing, on one sheet whole; none where is no room."""
        for size in wording.sizes:
            for reach in (math.inf,) if wording.on_each_sheet else (_NEAR, math.inf):
                found = list(self._in_size(wording, size, reach))
                if found:
                    yield from found
                    return

    def _in_size(self, wording: Wording, size: float, reach: float) -> Iterator[InkWords]:
        places = _places(wording, size, reach)
        if not len(places.boxes):
            return
        fits = shapely.contains_properly(self.free, places.boxes)
        fits &= ~shapely.intersects(self.taken, places.boxes)
        left, top, right, bottom = shapely.bounds(places.boxes).T
        on = [
            fits & (left >= w.left) & (top >= w.top) & (right <= w.right) & (bottom <= w.bottom)
            for w in self.sheets
        ]
        if not wording.on_each_sheet:
            on = [np.logical_or.reduce(on)] if on else []
        for there in on:
            if not there.any():
                continue
            best = int(np.argmax(there))
            if wording.on_each_sheet:
                middle = (places.stations[there].min() + places.stations[there].max()) / 2
                off = np.abs(places.stations - middle) + _FARTHER_COUNTS * places.asides
                off = np.where(there, off, np.inf)
                best = int(np.argmin(off))
            at, way = complex(places.begins[best]), complex(places.ways[best])
            words = InkWords(wording.text, at, size, bold=True, way=way)
            self.take(words)
            yield words


def room_of(words: InkWords) -> shapely.Polygon:
    """Return the room that words take up."""
    return shapely.Polygon(coordinates(words.corners))


def _for_words(window: Rectangle, tiles: Sequence[Tile]) -> Rectangle:
    """Return the part of a sheet away from the sides at which another is glued."""
    left, top, right, bottom = window.left, window.top, window.right, window.bottom
    for other in (tile.window for tile in tiles if tile.window != window):
        shared = window.shared(other)
        if shared.width <= 0 or shared.height <= 0:
            continue
        if shared.height > shared.width:
            left = window.left + _RIM if other.left < window.left else left
            right = window.right - _RIM if other.left > window.left else right
        elif shared.width > shared.height:
            top = window.top + _RIM if other.top < window.top else top
            bottom = window.bottom - _RIM if other.top > window.top else bottom
    return Rectangle(left, top, right, bottom)


def _places(wording: Wording, size: float, reach: float) -> _Places:
    """Return the places on a line at which words may be tried, the best first.

    They lie no farther along it than `reach` from the best of all.
    """
    line = polyline(wording.line)
    length = float(line.length)
    best = wording.at * length
    stations = np.unique(np.append(np.arange(0.0, length, _STEP), best))
    stations = stations[np.abs(stations - best) <= reach]
    points = _complex(shapely.line_interpolate_point(line, stations))
    hair = max(length * 1e-3, 1e-6)
    before = _complex(shapely.line_interpolate_point(line, np.maximum(stations - hair, 0.0)))
    after = _complex(shapely.line_interpolate_point(line, np.minimum(stations + hair, length)))
    travel = (after - before) / np.maximum(np.abs(after - before), 1e-9)
    asides = [(side, aside) for side in wording.sides for aside in (_ASIDE if side else (0.0,))]
    found = [_beside(wording, size, points, travel, side, aside) for side, aside in asides]
    farther = np.repeat([aside for _, aside in asides], len(stations))
    along = np.tile(stations, len(asides))
    worse = np.abs(along - best) + _FARTHER_COUNTS * farther
    order = np.argsort(worse, kind="stable")
    corners = np.concatenate([each[0] for each in found])[order]
    begins, ways = (np.concatenate([each[n] for each in found])[order] for n in (1, 2))
    boxes = shapely.polygons(np.stack([corners.real, corners.imag], axis=-1))
    return _Places(boxes, begins, ways, along[order], farther[order])


def _beside(
    wording: Wording,
    size: float,
    points: NDArray[np.complex128],
    travel: NDArray[np.complex128],
    side: complex,
    aside: float,
) -> tuple[NDArray[np.complex128], NDArray[np.complex128], NDArray[np.complex128]]:
    """Return the corners of words at each point, where they begin, and which way they run."""
    sample = InkWords(wording.text, 0j, size, bold=True)
    around = np.array(sample.corners)
    middle = around.mean()
    ways = _readable(travel) if wording.is_along else np.ones_like(travel)
    half = around - middle
    # How far the box reaches towards its line, from its middle.
    square = travel * side
    reach = np.abs((half[None, :] * ways[:, None] * square.conjugate()[:, None]).real).max(axis=1)
    centres = points + square * (reach + CLEAR + 0.5 + aside) if side else points
    corners = centres[:, None] + half[None, :] * ways[:, None]
    return corners, centres - middle * ways, ways


def _readable(travel: NDArray[np.complex128]) -> NDArray[np.complex128]:
    """Return directions to write in: from left to right, or from below upwards."""
    downwards = (travel.real < -_UPWARDS) | ((np.abs(travel.real) <= _UPWARDS) & (travel.imag > 0))
    return np.where(downwards, -travel, travel)


def _complex(points: NDArray[np.object_]) -> NDArray[np.complex128]:
    found: NDArray[np.complex128] = shapely.get_coordinates(points).view(np.complex128)
    return found.ravel()
