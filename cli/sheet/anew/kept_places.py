"""Pieces laid where those of an earlier sheet lie, so that its pages go on being of use. In mm."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product

import shapely

from trueup.cli.sheet.laying.drawn_on import drawn_on
from trueup.cli.sheet.laying.extents import moved
from trueup.cli.sheet.laying.layout import Laid, Layout, ToPrint, lay_out
from trueup.cli.sheet.laying.paper import Paper
from trueup.cli.sheet.laying.tiles import OVERLAP, Tile, count_for, tile_at
from trueup.cli.sheet.piece_lines import Layer, piece_strokes
from trueup.geometry.comparing.laying import laying
from trueup.geometry.lines.points import Motion
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import UNCHANGED

_APART = 1.0
"""Pieces that lie nearer to each other can hardly be cut out one by one, mm."""


@dataclass(frozen=True)
class Kept:
    """Pieces in their old places; those that have none or no room there lie `anew`, by name."""

    layout: Layout
    anew: tuple[str, ...]


def kept_places(
    old: Layout, pieces: Sequence[ToPrint], before: Mapping[str, Piece], layers: Collection[Layer]
) -> Kept:
    """Return pieces where those of an earlier sheet lie, on its pages and what has to be added.

    `before` has the pieces of that sheet as they lay there, by the names they have now. Those laid
    anew come on pages of their own, below all others. Raises Misused as `lay_out`.
    """
    places = {id(each.piece): each for each in old.pieces}
    found: list[Laid] = []
    waiting: list[ToPrint] = []
    # What did not change keeps its place, whatever comes near it.
    for each in sorted(pieces, key=lambda each: before.get(each.piece.name) != each.piece):
        was = places.get(id(before.get(each.piece.name)))
        laid = _in_place(each, was) if was else None
        if laid and was and (was.piece == each.piece or _has_room(laid, found, layers)):
            found.append(laid)
        else:
            waiting.append(each)
    added = _beyond(old, found, layers)
    layout = replace(old, pieces=tuple(found), columns=(), added=added)
    if not waiting:
        return Kept(_in_order(layout, pieces), ())
    row = max(tile.row for tile in (*old.tiles, *added)) + 1  # one row free, to glue nothing there
    laid_anew, tiles = _below(waiting, old.paper, row)
    layout = replace(layout, pieces=(*found, *laid_anew), added=(*added, *tiles))
    return Kept(_in_order(layout, pieces), tuple(each.piece.name for each in waiting))


def _in_order(layout: Layout, pieces: Sequence[ToPrint]) -> Layout:
    places = {each.piece.name: n for n, each in enumerate(pieces)}
    return replace(layout, pieces=tuple(sorted(layout.pieces, key=lambda p: places[p.piece.name])))


def _in_place(new: ToPrint, was: Laid) -> Laid:
    motion = was.motion.after(laying(new.piece, was.piece))
    return Laid(new.piece, motion, moved(new.changed, motion), new.nested, new.lines, new.hems)


def _has_room(laid: Laid, others: Sequence[Laid], layers: Collection[Layer]) -> bool:
    """Return whether a piece lies on pages there can be, and apart from all others."""
    for stroke in piece_strokes(laid, layers):
        if any(min(p.real, p.imag) < -UNCHANGED for p in stroke.points):
            return False
    return all(shapely.distance(laid.cut, other.cut) >= _APART for other in others)


def _beyond(old: Layout, pieces: Sequence[Laid], layers: Collection[Layer]) -> tuple[Tile, ...]:
    """Return the pages that the earlier sheet does not have and on which a line lies now."""
    sheet = old.paper.window
    there = {(tile.row, tile.column) for tile in old.tiles}
    lines = [stroke for laid in pieces for stroke in piece_strokes(laid, layers, only_needed=True)]
    right = max((p.real for line in lines for p in line.points), default=0.0)
    bottom = max((p.imag for line in lines for p in line.points), default=0.0)
    places = product(
        range(1, count_for(bottom, sheet.height) + 1), range(1, count_for(right, sheet.width) + 1)
    )
    return drawn_on((tile_at(*place, sheet) for place in places if place not in there), lines)


def _below(
    pieces: Sequence[ToPrint], paper: Paper, row: int
) -> tuple[tuple[Laid, ...], tuple[Tile, ...]]:
    """Return pieces laid out for themselves, below so many rows of pages."""
    apart = lay_out(pieces, paper)
    down = Motion(shift=1j * row * (paper.window.height - OVERLAP))
    laid = tuple(
        replace(each, motion=down.after(each.motion), changed=moved(each.changed, down))
        for each in apart.pieces
    )
    tiles = tuple(tile_at(tile.row + row, tile.column, paper.window) for tile in apart.tiles)
    return laid, tiles
