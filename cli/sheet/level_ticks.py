"""Levels of the body on a piece: a short line from either side of the cloth. Lengths in mm."""

from collections.abc import Iterator

import shapely
from shapely.geometry import LineString

from trueup.geometry.lines.points import Point
from trueup.geometry.lines.polygons import polyline
from trueup.geometry.pieces.piece import Level, Piece

TICK = 12.0
_FAR = 1e5
_NARROW = 4 * TICK
"""A level shorter than this is drawn through."""


def level_ticks(piece: Piece) -> Iterator[tuple[Point, Point]]:
    """Yield the lines by which the levels of a piece are told, in from the sides of the cloth.

    A level that runs along an edge has none.
    """
    for level in piece.levels:
        across = _across(piece, level)
        if across is None:
            continue
        start, end = across
        if end.real - start.real < _NARROW:
            yield start, end
        else:
            yield start, start + TICK
            yield end, end - TICK


def level_line(piece: Piece, level: Level) -> tuple[Point, Point] | None:
    """Return the stretch between the two lines of a level; None where it is drawn through."""
    across = _across(piece, level)
    if across is None or across[1].real - across[0].real < _NARROW:
        return None
    return across[0] + TICK, across[1] - TICK


def _across(piece: Piece, level: Level) -> tuple[Point, Point] | None:
    """Return where a level enters the cloth and where it leaves it."""
    if level.along is not None:
        return None
    line = polyline((complex(-_FAR, level.y), complex(_FAR, level.y)))
    parts = [
        part
        for part in shapely.get_parts(shapely.intersection(piece.cloth, line))
        if isinstance(part, LineString)
    ]
    if not parts:
        return None
    ends = [x for part in parts for x, _ in part.coords]
    return complex(min(ends), level.y), complex(max(ends), level.y)
