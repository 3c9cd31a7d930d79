"""Spread an area over sheets that overlap, with marks where they meet. Lengths in mm."""

import math
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import lru_cache

from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.geometry.lines.points import Point

OVERLAP = 10.0
"""Neighbouring sheets show this much of the pattern alike, to be glued on each other."""

_ROUNDING = 1e-6
_LETTERS = 26


@dataclass(frozen=True)
class Tile:
    """One sheet of several: its row and column, from one, and the part of the area it shows."""

    row: int
    column: int
    window: Rectangle

    @property
    def place(self) -> str:
        """Return where it lies as a map has it: its column in letters, its row in figures.

        >>> Tile(3, 2, Rectangle(0.0, 0.0, 1.0, 1.0)).place
        'B3'
        """
        return f"{column_letters(self.column)}{self.row}"


@dataclass(frozen=True)
class MatchingCross:
    """A cross that two neighbouring sheets show at the same place; its number is theirs alone.

    `along` is the direction of the strip they share.
    """

    number: int
    at: Point
    along: Point


def column_letters(column: int) -> str:
    """Return the letters of a column, counted from one: A to Z, then AA.

    >>> column_letters(1), column_letters(26), column_letters(27)
    ('A', 'Z', 'AA')
    """
    letters = ""
    while column > 0:
        column, rest = divmod(column - 1, _LETTERS)
        letters = chr(ord("A") + rest) + letters
    return letters


def count_for(length: float, sheet: float) -> int:
    """Return how many sheets of a length cover a length."""
    return max(1, math.ceil((length - OVERLAP - _ROUNDING) / (sheet - OVERLAP)))


def covered(count: int, sheet: float) -> float:
    """Return the length that so many sheets of a length cover."""
    return count * (sheet - OVERLAP) + OVERLAP


def tiles_over(width: float, height: float, sheet: Rectangle) -> tuple[Tile, ...]:
    """Return the sheets that cover an area, row by row."""
    return _spread(count_for(height, sheet.height), count_for(width, sheet.width), sheet)


@lru_cache(maxsize=64)
def _spread(rows: int, columns: int, sheet: Rectangle) -> tuple[Tile, ...]:
    return tuple(
        tile_at(row + 1, column + 1, sheet) for row in range(rows) for column in range(columns)
    )


def tile_at(row: int, column: int, sheet: Rectangle) -> Tile:
    """Return the sheet in a row and a column, both from one."""
    left, top = (column - 1) * (sheet.width - OVERLAP), (row - 1) * (sheet.height - OVERLAP)
    return Tile(row, column, Rectangle(left, top, left + sheet.width, top + sheet.height))


def marks_between(
    tiles: Collection[Tile], later: Collection[Tile] = ()
) -> tuple[MatchingCross, ...]:
    """Return two numbered marks for each two neighbours, at a quarter and three of the border.

    Sheets that came `later` leave the numbers of the others as they are.
    """
    marks: list[MatchingCross] = []
    found: set[tuple[Point, Point]] = set()
    for sheets in (tiles, (*tiles, *later)):
        for strip, along in _borders(sheets):
            places = [_along(strip, along, share) for share in (0.25, 0.75)]
            if (places[0], along) in found:
                continue
            found.add((places[0], along))
            number = len(marks) // 2 + 1
            marks += [MatchingCross(number, place, along) for place in places]
    return tuple(marks)


def _borders(tiles: Collection[Tile]) -> Iterator[tuple[Rectangle, Point]]:
    """Yield the strip that each two neighbours share, and the direction in which it runs."""
    by_place = {(tile.row, tile.column): tile for tile in tiles}
    for row, column in sorted(by_place):
        for beside, along in (((row, column + 1), 1j), ((row + 1, column), 1 + 0j)):
            if beside in by_place:
                yield by_place[row, column].window.shared(by_place[beside].window), along


def _along(strip: Rectangle, along: Point, share: float) -> Point:
    if along == 1j:
        return complex((strip.left + strip.right) / 2, strip.top + share * strip.height)
    return complex(strip.left + share * strip.width, (strip.top + strip.bottom) / 2)
