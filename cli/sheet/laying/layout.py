"""Lay the pieces of a draft out on paper: grain along its length, apart, and over which sheets.

Lengths in mm; the area starts at nought, y down.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import shapely
from shapely.affinity import affine_transform

from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.failures import Misused
from trueup.cli.sheet.laying.packing import Box, Packing, packed
from trueup.cli.sheet.laying.paper import FOOTER, LONGEST, MARGIN, Paper
from trueup.cli.sheet.laying.tiles import Tile, count_for, covered, tiles_over
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.lines.points import Motion, Point, turn_between
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.said import said

GAP = 10.0
"""Pieces lie this far apart, so that one can be cut out without cutting into the next."""

_UPRIGHT = 1e-12
_ROUNDING = 1e-6
_MOST_COLUMNS = 60
_COVER = "the cover, column "
_COLUMN = "the column beside the pieces"
_UNCHANGED = shapely.Polygon()


@dataclass(frozen=True)
class OneSize:
    """A piece in one size of a run: its place in the run, its name, and itself."""

    place: int
    size: str
    piece: Piece


@dataclass(frozen=True)
class ToPrint:
    """A piece with the places that changed since another version, in the piece's own frame.

    `nested` are all sizes of it, where it is printed in several, laid on it.
    """

    piece: Piece
    changed: shapely.Geometry = _UNCHANGED
    nested: tuple[OneSize, ...] = ()

    @cached_property
    def grain_up(self) -> Motion:
        """Return the turn that brings the grainline along the length of the paper."""
        line = self.piece.grainline
        if line is None or line.start == line.end:
            return Motion()
        along = line.end - line.start
        turn = turn_between(along, 1j if along.imag >= 0 else -1j)
        return Motion() if abs(turn) < _UPRIGHT else Motion.turn(0j, turn)

    @cached_property
    def bounds(self) -> Rectangle:
        """Return the rectangle around all that is drawn of it, grain up."""
        pieces = [self.piece, *(each.piece for each in self.nested)]
        points = [self.grain_up(point) for piece in pieces for point in extent(piece)]
        if not self.changed.is_empty:
            left, top, right, bottom = moved(self.changed, self.grain_up).bounds
            points += [complex(left, top), complex(right, bottom)]
        return Rectangle.around(points)

    @property
    def box(self) -> Box:
        """Return how much room it takes up."""
        return Box(self.piece.name, self.bounds.width, self.bounds.height)


@dataclass(frozen=True)
class Laid:
    """A piece in its place; the motion takes it there from its own frame."""

    piece: Piece
    motion: Motion
    changed: shapely.Geometry
    """The places that changed, on the area."""
    nested: tuple[OneSize, ...] = ()

    @cached_property
    def cut(self) -> shapely.Geometry:
        """Return the outline to cut, on the area: of sizes nested that around all of them."""
        lines = [cutting_line(each.piece) for each in self.nested] or [cutting_line(self.piece)]
        return moved(shapely.union_all(lines) if self.nested else lines[0], self.motion)

    @cached_property
    def cloth(self) -> shapely.Geometry:
        """Return the cloth inside the seam lines, on the area: inside those of all sizes."""
        within = [each.piece.cloth for each in self.nested] or [self.piece.cloth]
        return moved(shapely.intersection_all(within) if self.nested else within[0], self.motion)


@dataclass(frozen=True)
class Layout:
    """Pieces on an area, the sheets it is spread over, and where columns of a cover lie on it.

    Sheets on which nothing would be drawn are left out.
    """

    paper: Paper
    width: float
    height: float
    pieces: tuple[Laid, ...]
    tiles: tuple[Tile, ...]
    columns: tuple[Point, ...] = ()

    def shown_on(self, tile: Tile) -> tuple[str, ...]:
        """Return the names of the pieces of which a sheet shows a part."""
        return tuple(each.piece.name for each in self.pieces if _shows(tile, each))


def extent(piece: Piece) -> list[Point]:
    """Return the points between which everything that belongs to a piece lies."""
    points = [complex(x, y) for x, y in cutting_line(piece).exterior.coords]
    points += piece.outline_points
    for dart in piece.inner_darts:
        points += [dart.upper, dart.lower, dart.left, dart.right]
    if piece.grainline:
        points += [piece.grainline.start, piece.grainline.end]
    return points


def moved(shape: shapely.Geometry, motion: Motion) -> shapely.Geometry:
    """Return a shape after a rigid motion."""
    turn, shift = motion.rotation, motion.shift
    matrix = (turn.real, -turn.imag, turn.imag, turn.real, shift.real, shift.imag)
    return affine_transform(shape, matrix)


def lay_out(printed: Sequence[ToPrint], paper: Paper, cover: Sequence[Rectangle] = ()) -> Layout:
    """Return the pieces laid out on a paper; on one that is not tiled, the cover beside them.

    Raises Misused for a paper that is too small.
    """
    if paper.is_tiled:
        return _over_sheets(printed, paper)
    return _whole(printed, paper, cover)


def lay_beside(printed: Sequence[ToPrint], column: Rectangle) -> Layout:
    """Return the pieces beside each other and a column, on one page as large as they need.

    Where a page cannot be as wide, they lie in several rows. Raises Misused when no page of a PDF
    can hold them.
    """
    most = Paper("one page of a PDF", LONGEST)
    boxes = [Box(_COLUMN, column.width, column.height, at_side=True), *(p.box for p in printed)]
    for box in boxes:
        if max(box.width - most.drawn_width, box.height - most.drawn_height) > 0:
            raise _TooLarge(box.name, box.width, box.height)
    beside = sum(box.width + GAP for box in boxes) - GAP
    packing = packed(boxes, min(beside, most.drawn_width), GAP, most.name)
    if packing.height > most.drawn_height:
        raise _TooLarge("this pattern", packing.width, packing.height)
    page = Paper(most.name, packing.width + 2 * MARGIN, packing.height + 2 * MARGIN + FOOTER)
    return Layout(
        page,
        packing.width,
        packing.height,
        _laid(printed, packing),
        (Tile(1, 1, page.window),),
        (packing.places[_COLUMN],),
    )


class _TooLarge(Misused):
    """More than a page of a PDF can hold; its text is the whole sentence."""

    def __init__(self, name: str, width: float, height: float) -> None:
        sizes = {"width": width, "height": height, "most": LONGEST}
        super().__init__(said("no-room-on-page", piece=name, **sizes))


def _over_sheets(printed: Sequence[ToPrint], paper: Paper) -> Layout:
    """Return the layout on a number of columns that takes the fewest sheets."""
    sheet, boxes = paper.window, [each.box for each in printed]
    widest = max((box.width for box in boxes), default=0.0)
    all_beside = sum(box.width + GAP for box in boxes)
    first, last = count_for(widest, sheet.width), count_for(all_beside, sheet.width)
    if first > _MOST_COLUMNS:
        raise Misused(said("too-wide-for-paper", width=widest, paper=paper.name))
    found: list[Layout] = []
    for columns in range(first, min(last, _MOST_COLUMNS) + 1):
        packing = packed(boxes, covered(columns, sheet.width), GAP, paper.name)
        laid = _laid(printed, packing)
        tiles = [
            tile
            for tile in tiles_over(packing.width, packing.height, sheet)
            if any(_shows(tile, each) for each in laid)
        ]
        found.append(Layout(paper, packing.width, packing.height, laid, tuple(tiles)))
    return min(found, key=lambda layout: len(layout.tiles))


def _shows(tile: Tile, laid: Laid) -> bool:
    window = tile.window.polygon
    return any(shape.intersects(window) for shape in (laid.cut, laid.changed))


def _whole(printed: Sequence[ToPrint], paper: Paper, cover: Sequence[Rectangle]) -> Layout:
    """Return the layout with each piece whole on a page, on the fewest pages.

    The cover begins on the first.
    """
    columns = [
        Box(f"{_COVER}{n}", each.width, each.height, at_side=n == 1)
        for n, each in enumerate(cover, start=1)
    ]
    boxes = [*columns, *(each.box for each in printed)]
    found: list[tuple[Paper, Packing]] = []
    refused: list[Misused] = []
    for way in dict.fromkeys((paper, paper.turned)):
        try:
            _refuse_too_long(boxes, way)
            place = f"the paper ({paper.name})"
            found.append((way, packed(boxes, way.drawn_width, GAP, place, way.drawn_height)))
        except Misused as error:
            refused.append(error)
    if not found:
        raise refused[0]
    way, packing = min(found, key=lambda each: _page_count(*each))
    return _on_pages(printed, way, packing, columns)


def _refuse_too_long(boxes: Sequence[Box], paper: Paper) -> None:
    for box in boxes:
        if box.height > paper.drawn_height:
            sizes = {"height": box.height, "most": paper.drawn_height}
            raise Misused(said("too-long-for-paper", piece=box.name, paper=paper.name, **sizes))


def _page_count(paper: Paper, packing: Packing) -> int:
    pitch = paper.drawn_height + GAP
    return max(1, math.ceil((packing.height - _ROUNDING) / pitch))


def _on_pages(
    printed: Sequence[ToPrint], paper: Paper, packing: Packing, columns: Sequence[Box]
) -> Layout:
    count, pitch = _page_count(paper, packing), paper.drawn_height + GAP
    height = paper.drawn_height
    if paper.height is None and count == 1:
        height = packing.height
    page = Paper(paper.name, paper.width, height + 2 * MARGIN + FOOTER)
    tiles = tuple(
        Tile(n + 1, 1, Rectangle(0.0, n * pitch, page.drawn_width, n * pitch + height))
        for n in range(count)
    )
    places = tuple(packing.places[box.name] for box in columns)
    return Layout(page, packing.width, packing.height, _laid(printed, packing), tiles, places)


def _laid(printed: Sequence[ToPrint], packing: Packing) -> tuple[Laid, ...]:
    found = []
    for each in printed:
        corner = complex(each.bounds.left, each.bounds.top)
        motion = Motion(shift=packing.places[each.piece.name] - corner)
        motion = motion.after(each.grain_up)
        found.append(Laid(each.piece, motion, moved(each.changed, motion), each.nested))
    return tuple(found)
