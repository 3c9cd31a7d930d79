"""Spread an area over sheets that overlap, with marks where they meet. Lengths in mm."""

import math
from collections.abc import Collection
from dataclasses import dataclass

from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.geometry.lines.points import Point

OVERLAP = 10.0
"""Neighbouring sheets show this much of the pattern alike, to be glued on each other."""

_ROUNDING = 1e-6


@dataclass(frozen=True)
class Tile:
    """One sheet of several: its row and column, from one, and the part of the area it shows."""

    row: int
    column: int
    window: Rectangle

    @property
    def name(self) -> str:
        """Return row and column, as in 2-3."""
        return f"{self.row}-{self.column}"


@dataclass(frozen=True)
class MatchingCross:
    """A cross that two neighbouring sheets show at the same place; its number is theirs alone.

    `along` is the direction of the strip they share.
    """

    number: int
    at: Point
    along: Point


def count_for(length: float, sheet: float) -> int:
    """Return how many sheets of a length cover a length."""
    return max(1, math.ceil((length - OVERLAP - _ROUNDING) / (sheet - OVERLAP)))


def covered(count: int, sheet: float) -> float:
    """Return the length that so many sheets of a length cover."""
    return count * (sheet - OVERLAP) + OVERLAP


def tiles_over(width: float, height: float, sheet: Rectangle) -> tuple[Tile, ...]:
    """Return the sheets that cover an area, row by row."""
    rows, columns = count_for(height, sheet.height), count_for(width, sheet.width)
    across, down = sheet.width - OVERLAP, sheet.height - OVERLAP
    return tuple(
        Tile(
            row + 1,
            column + 1,
            Rectangle(
                column * across,
                row * down,
                column * across + sheet.width,
                row * down + sheet.height,
            ),
        )
        for row in range(rows)
        for column in range(columns)
    )


def marks_between(tiles: Collection[Tile]) -> tuple[MatchingCross, ...]:
    """Return two numbered marks for each two neighbours, at a quarter and three of the border."""
    by_place = {(tile.row, tile.column): tile for tile in tiles}
    marks: list[MatchingCross] = []
    for row, column in sorted(by_place):
        for beside, along in (((row, column + 1), 1j), ((row + 1, column), 1 + 0j)):
            if beside not in by_place:
                continue
            strip = by_place[row, column].window.shared(by_place[beside].window)
            number = len(marks) // 2 + 1
            marks += [
                MatchingCross(number, _along(strip, along, share), along) for share in (0.25, 0.75)
            ]
    return tuple(marks)


def _along(strip: Rectangle, along: Point, share: float) -> Point:
    if along == 1j:
        return complex((strip.left + strip.right) / 2, strip.top + share * strip.height)
    return complex(strip.left + share * strip.width, (strip.top + strip.bottom) / 2)
