"""Lay the pieces of a draft out on paper: grain along its length, apart, and over which sheets.

Lengths in mm; the area starts at nought, y down.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.failures import Misused
from trueup.cli.sheet.ink.drawn import NOTHING_MOVED, MovedLines
from trueup.cli.sheet.laying.extents import extent, moved
from trueup.cli.sheet.laying.packing import Box, Packing, packed
from trueup.cli.sheet.laying.paper import FOOTER, MARGIN, Paper
from trueup.cli.sheet.laying.tiles import OVERLAP, Tile, count_for, covered, tiles_over
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.cloth.turned_hem import hems_of
from trueup.geometry.lines.points import Motion, Point, turn_between
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pleats.laid_open import as_cut
from trueup.geometry.said import said

GAP = 10.0
"""Pieces lie this far apart, so that one can be cut out without cutting into the next."""

_UPRIGHT = 1e-12
_ROUNDING = 1e-6
_MOST_COLUMNS = 60
_COVER = "the cover, column "
_AT_LEFT = 10.0
"""So much is left free at the left of several sheets, mm: a piece that grows has nowhere else."""

CLEAR = 1.0
"""The cover keeps so far from where pages are glued, mm, and as far from the edge of the first."""

_UNCHANGED = shapely.Polygon()
_STEADY = 5.0
"""A piece on several sheets takes up whole steps of this, mm, and one more on each side: so what
moves a line by less leaves all others where they lie."""


@dataclass(frozen=True)
class OneSize:
    """A piece in one size of a run: its place in the run, its name, and itself."""

    place: int
    size: str
    piece: Piece


@dataclass(frozen=True)
class ToPrint:
    """A piece with the places that changed since another version, in the piece's own frame.

    `nested` are all sizes of it, where it is printed in several, laid on it; `lines` those that lie
    elsewhere than in that version; `hems` its edges that are turned up.
    """

    piece: Piece
    changed: shapely.Geometry = _UNCHANGED
    nested: tuple[OneSize, ...] = ()
    lines: MovedLines = NOTHING_MOVED
    hems: tuple[str, ...] = ()

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

    @cached_property
    def steady_bounds(self) -> Rectangle:
        """Return the rectangle around it in whole steps, the same for almost the same piece."""
        return Rectangle(
            math.floor(self.bounds.left / _STEADY - 1) * _STEADY,
            math.floor(self.bounds.top / _STEADY - 1) * _STEADY,
            math.ceil(self.bounds.right / _STEADY + 1) * _STEADY,
            math.ceil(self.bounds.bottom / _STEADY + 1) * _STEADY,
        )

    @cached_property
    def steady_box(self) -> Box:
        """Return how much room it takes up on several sheets."""
        return Box(self.piece.name, self.steady_bounds.width, self.steady_bounds.height)

    def laid(self, shift: Point) -> "Laid":
        """Return it laid grain up, then shifted; in each place once, as many layouts share it."""
        if shift not in self._laid:
            motion = Motion(shift=shift).after(self.grain_up)
            of = (moved(self.changed, motion), self.nested, self.lines, self.hems)
            self._laid[shift] = Laid(self.piece, motion, *of)
        return self._laid[shift]

    @cached_property
    def _laid(self) -> "dict[Point, Laid]":
        return {}


def to_print(draft: Draft) -> tuple[ToPrint, ...]:
    """Return every piece of a draft to be printed, as its cloth is cut."""
    hems = hems_of(draft)
    return tuple(ToPrint(piece, hems=hems[piece.name]) for piece in as_cut(draft).pieces)


@dataclass(frozen=True)
class Laid:
    """A piece in its place; the motion takes it there from its own frame."""

    piece: Piece
    motion: Motion
    changed: shapely.Geometry
    """The places that changed, on the area."""
    nested: tuple[OneSize, ...] = ()
    lines: MovedLines = NOTHING_MOVED
    """Its lines that lie elsewhere than in another version, in its own frame."""
    hems: tuple[str, ...] = ()

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

    Sheets on which nothing would be drawn are left out; the sheets `added` came after the others
    were printed.
    """

    paper: Paper
    width: float
    height: float
    pieces: tuple[Laid, ...]
    tiles: tuple[Tile, ...]
    columns: tuple[Point, ...] = ()
    added: tuple[Tile, ...] = ()

    def shown_on(self, tile: Tile) -> tuple[str, ...]:
        """Return the names of the pieces of which a sheet shows a part."""
        return self._shown[tile]

    @cached_property
    def _shown(self) -> Mapping[Tile, tuple[str, ...]]:
        return showing((*self.tiles, *self.added), self.pieces)


def lay_out(printed: Sequence[ToPrint], paper: Paper, cover: Sequence[Rectangle] = ()) -> Layout:
    """Return the pieces laid out on a paper with the cover.

    On a paper that is tiled, the columns of the cover stand on the first sheets of the first row,
    one on each, the pieces below and beside them. Raises Misused for a paper that is too small.
    """
    if paper.is_tiled:
        return _over_sheets(printed, paper, cover)
    return _whole(printed, paper, cover)


def _over_sheets(printed: Sequence[ToPrint], paper: Paper, cover: Sequence[Rectangle]) -> Layout:
    """Return the layout on a number of columns that takes the fewest sheets.

    One on which each sheet shows some of a piece goes before all others.
    """
    widest = max((each.steady_box.width for each in printed), default=0.0)
    all_beside = sum(each.steady_box.width for each in printed)
    first, last = (count_for(wide + _AT_LEFT, paper.drawn_width) for wide in (widest, all_beside))
    if first > _MOST_COLUMNS:
        raise Misused(said("too-wide-for-paper", width=widest, paper=paper.name))
    found: list[tuple[int, int, Layout]] = []
    for count in range(max(first, len(cover)), max(min(last, _MOST_COLUMNS), len(cover)) + 1):
        # Above all pieces, the cover can stand on those sheets that show one below it.
        for beneath in (len(cover), count) if len(cover) not in (0, count) else (len(cover),):
            bare, layout = _on_columns(printed, paper, cover, count, beneath)
            found.append((bare, len(layout.tiles), layout))
    return min(found, key=lambda each: each[:2])[2]


def _on_columns(
    printed: Sequence[ToPrint],
    paper: Paper,
    cover: Sequence[Rectangle],
    count: int,
    beneath: int,
) -> tuple[int, Layout]:
    """Return the layout on so many columns of sheets, no piece above the cover on some of them.

    With it comes how many of its sheets show nothing of a piece.
    """
    sheet, boxes = paper.window, [each.steady_box for each in printed]
    pitch = sheet.width - OVERLAP
    if cover:
        high = max(each.height for each in cover)
        boxes.append(Box(_COVER, beneath * pitch, high, at_side=True))
    packing = packed(boxes, covered(count, sheet.width) - _AT_LEFT, 0.0, paper.name)
    width = packing.width + _AT_LEFT
    laid = laid_out(printed, packing, _AT_LEFT)
    shown = showing(tiles_over(width, packing.height, sheet), laid)
    above = [tile for tile in shown if tile.row == 1][:beneath]
    best = sorted(above, key=lambda tile: not shown[tile])[: len(cover)]
    told = sorted(best, key=lambda tile: tile.column)
    kept = tuple(tile for tile, names in shown.items() if names or tile in told)
    columns = tuple(complex(tile.window.left + OVERLAP + CLEAR) for tile in told)
    bare = sum(not shown[tile] for tile in kept)
    return bare, Layout(paper, width, packing.height, laid, kept, columns)


def showing(tiles: Sequence[Tile], pieces: Sequence[Laid]) -> dict[Tile, tuple[str, ...]]:
    """Return for each sheet the names of the pieces of which it shows a part."""
    sides = np.array([(w.left, w.top, w.right, w.bottom) for w in (t.window for t in tiles)])
    windows = shapely.box(*sides.T) if len(sides) else np.array([])
    found: list[list[str]] = [[] for _ in tiles]
    for laid in pieces:
        on = np.zeros(len(tiles), bool)
        for shape in (laid.cut, laid.changed):
            if not shape.is_empty:
                shapely.prepare(shape)
                on |= shapely.intersects(shape, windows)
        for index in np.flatnonzero(on):
            found[index].append(laid.piece.name)
    return {tile: tuple(names) for tile, names in zip(tiles, found, strict=True)}


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
    return Layout(page, packing.width, packing.height, laid_out(printed, packing), tiles, places)


def laid_out(
    printed: Sequence[ToPrint], packing: Packing, at_left: float | None = None
) -> tuple[Laid, ...]:
    """Return pieces in the places of their boxes: of steady ones, where some is free `at_left`."""
    found = []
    for each in printed:
        bounds = each.bounds if at_left is None else each.steady_bounds
        corner = complex(bounds.left, bounds.top) - (at_left or 0.0)
        found.append(each.laid(packing.places[each.piece.name] - corner))
    return tuple(found)
