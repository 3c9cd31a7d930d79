"""Put boxes on shelves: side by side from the left, each shelf below the one before. In mm.

Boxes are taken highest first, and each goes where the area grows least. This is the shelf packing
by decreasing height of Coffman, Garey, Johnson and Tarjan, "Performance bounds for level-oriented
two-dimensional packing algorithms", SIAM J. Comput. 9 (1980), from memory.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from trueup.cli.failures import Misused
from trueup.geometry.said import said

_ROUNDING = 1e-6


@dataclass(frozen=True)
class Box:
    """What takes up so much room; `at_side` when it must lie at the left side of the area."""

    name: str
    width: float
    height: float
    at_side: bool = False


@dataclass(frozen=True)
class Packing:
    """Where the upper left corner of each box lies, and how much of the area they take up."""

    places: Mapping[str, complex]
    width: float
    height: float


class TooWide(Misused):
    """A box that is wider than the area; its text is the whole sentence."""

    def __init__(self, box: Box, width: float, where: str) -> None:
        most = max(0.0, width)
        super().__init__(said("too-wide", piece=box.name, width=box.width, where=where, most=most))


@dataclass
class _Shelf:
    height: float = 0.0
    used: float = 0.0
    boxes: list[tuple[Box, float]] = field(default_factory=list)

    def room(self, width: float) -> float:
        return width - self.used

    def add(self, box: Box, gap: float) -> None:
        self.boxes.append((box, self.used))
        self.used += box.width + gap
        self.height = max(self.height, box.height)


def packed(
    boxes: Sequence[Box], width: float, gap: float, where: str, page: float = math.inf
) -> Packing:
    """Return boxes placed in an area of a width, at least `gap` apart.

    Where the area is cut up into pages of a height, `gap` apart, each shelf lies on one of them,
    unless it is higher. `where` is what a message calls the area. Raises TooWide.
    """
    for box in boxes:
        if box.width > width + _ROUNDING:
            raise TooWide(box, width, where)
    shelves: list[_Shelf] = []
    for box in sorted(boxes, key=lambda each: (not each.at_side, -each.height, each.name)):
        _shelf_for(box, shelves, width).add(box, gap)
    places: dict[str, complex] = {}
    top = across = 0.0
    for shelf in shelves:
        done = top % (page + gap)
        if done > 0 and done + shelf.height > page + _ROUNDING:
            top += page + gap - done
        for box, left in shelf.boxes:
            places[box.name] = complex(left, top)
            across = max(across, left + box.width)
        top += shelf.height + gap
    return Packing(places, across, max(0.0, top - gap))


def _shelf_for(box: Box, shelves: list[_Shelf], width: float) -> _Shelf:
    """Return the shelf that grows least by a box, a new one where none has room."""
    fits = [shelf for shelf in shelves if box.width <= shelf.room(width) + _ROUNDING]
    if box.at_side or not fits:
        shelves.append(_Shelf())
        return shelves[-1]
    return min(fits, key=lambda shelf: max(0.0, box.height - shelf.height))
