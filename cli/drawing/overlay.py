"""Two drafts over each other: the old dashed, the new solid, what moved hatched and numbered."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain
from types import MappingProxyType

import shapely
from shapely.geometry.base import BaseGeometry

from trueup.cli.drawing.apart import PageScale
from trueup.cli.drawing.key import (
    KEY_LINE,
    KeyEntry,
    Sample,
    key_items,
    key_rows,
    key_width,
    over_each_other,
)
from trueup.cli.drawing.piece.naming import named_box
from trueup.cli.drawing.piece.pieces import dart_lines, edge_lines, piece_box, piece_items
from trueup.cli.drawing.scene.layout import in_a_row, text_room
from trueup.cli.drawing.scene.placing import places
from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.drawing.scene.scene import (
    BEFORE,
    Dimension,
    Emphasis,
    Group,
    Hatch,
    HatchedArea,
    Item,
    Mark,
    Scene,
    Words,
)
from trueup.geometry.comparing.comparison import Comparison, EdgeMove
from trueup.geometry.lines.points import Point, coordinates
from trueup.geometry.pieces.piece import Piece

_MARGIN = 15.0


@dataclass(frozen=True)
class Caption:
    """What is written beside an overlay: its title, the two versions, and a line for each move.

    `moves` are numbered in the order of `Comparison.moves`; `notes` follow below.
    """

    title: str
    old: str
    new: str
    moves: tuple[str, ...]
    notes: tuple[str, ...] = ()


def overlay(found: Comparison, caption: Caption) -> Scene:
    """Return the picture of two drafts compared; pieces on which nothing changed are left out."""
    names = found.changed_pieces or found.new.piece_names
    boxes = [box_of_both(found, name) for name in names]
    across, down = sum(box.width for box in boxes), max((box.height for box in boxes), default=1.0)
    # A tall narrow piece makes no picture whose letters are lost beside it.
    pen = max(1.25 * across + 2 * _MARGIN, 1.4 * down, 250.0) / 1000
    size = 14 * pen
    keys = key_rows(over_each_other(caption.old, caption.new), size)
    top = _MARGIN + (4 + KEY_LINE * (len(keys) - 1)) * size
    gap = 7 * size
    boxes = [
        named_box(found.new.piece(name), box, size) if found.new.has_piece(name) else box
        for name, box in zip(names, boxes, strict=True)
    ]
    row = in_a_row(boxes, _MARGIN + 3 * size, top + 3 * size, gap)
    numbers = {move.name: k for k, move in enumerate(found.moves, start=1)}
    pieces = [
        Group(tuple(_piece(found, name, numbers, size)), name, motion)
        for name, motion in zip(names, row.motions, strict=True)
    ]
    items: list[Item] = [
        Words(caption.title, complex(_MARGIN, _MARGIN + size), 1.1 * size, bold=True),
    ]
    for line, key in enumerate(keys):
        items += key_items(key, complex(_MARGIN, _MARGIN + (3 + KEY_LINE * line) * size), size)
    items += pieces
    items += _list(caption, size, row.bottom + 4 * size)
    texts = [caption.title, *(f"99  {each}" for each in caption.moves), *caption.notes]
    widest = max(text_room(text, size) for text in texts)
    least = max(widest, *(key_width(key, size) for key in keys))
    width = max(row.right + 3 * size, _MARGIN + least) + _MARGIN
    lines = len(caption.moves) + len(caption.notes)
    height = row.bottom + (4 + 1.6 * lines) * size + _MARGIN
    return Scene(width, height, caption.title, tuple(items), pen)


def overlays(found: Comparison, title: str) -> tuple[Scene, ...]:
    """Return the same as pictures of a page, one a piece; what is written beside them is not here.

    Its moves are numbered in the order of `Comparison.moves`.
    """
    names = found.changed_pieces or found.new.piece_names
    boxes = {name: box_of_both(found, name) for name in names}
    scale = PageScale.of(boxes.values())
    numbers = {move.name: k for k, move in enumerate(found.moves, start=1)}
    return tuple(
        scale.scene(
            name,
            scale.named(found.new.piece(name), box) if found.new.has_piece(name) else box,
            tuple(_piece(found, name, numbers, scale.letters, scale.room(box))),
            title,
        )
        for name, box in boxes.items()
    )


def overlay_key(found: Comparison, before: str, after: str) -> tuple[KeyEntry, ...]:
    """Return the key of that picture, of what is to be seen in it."""
    names = found.changed_pieces
    absent = set()
    if all(found.cloth_gained(name).is_empty for name in names):
        absent.add(Sample.GAINED)
    if all(found.cloth_lost(name).is_empty for name in names):
        absent.add(Sample.LOST)
    return tuple(each for each in over_each_other(before, after) if each.sample not in absent)


def box_of_both(found: Comparison, name: str) -> Rectangle:
    """Return the box around a piece as it was and as it is, whichever there are."""
    drafts = [draft for draft in (found.old, found.new) if draft.has_piece(name)]
    boxes = [piece_box(draft.piece(name)) for draft in drafts]
    return boxes[0].joined(boxes[-1])


def _piece(
    found: Comparison,
    name: str,
    numbers: dict[str, int],
    size: float,
    room: Rectangle | None = None,
) -> Iterator[Item]:
    yield from overlaid(found, name, size)
    moves = [move for move in found.moves if move.piece == name]
    yield from _marks(moves, numbers, size, _drawn(found, name), room)


def overlaid(
    found: Comparison, name: str, size: float, shown: Mapping[str, Emphasis] = MappingProxyType({})
) -> Iterator[Item]:
    """Yield a piece as it was, dashed, under the piece as it is, what moved hatched and heavier.

    `shown` are lines that are drawn to show something else, by their full names.
    """
    yield from what_moved(found, name)
    if found.new.has_piece(name):
        yield from piece_items(found.new.piece(name), size, shown={**moved_lines(found), **shown})
    elif found.old.has_piece(name):
        yield Words(name, _middle(found.old.piece(name)), size)


def what_moved(found: Comparison, name: str) -> Iterator[Item]:
    """Yield the cloth that a piece gained and lost, hatched, and under it the piece as it was."""
    gained, lost = found.cloth_gained(name), found.cloth_lost(name)
    yield HatchedArea(gained.broad, Hatch.RISING, f"{name}.gained", within=gained.more)
    yield HatchedArea(lost.broad, Hatch.FALLING, f"{name}.lost", within=lost.more)
    if found.old.has_piece(name):
        yield from _before(found, found.old.piece(name))


def moved_lines(found: Comparison) -> dict[str, Emphasis]:
    """Return the edges and darts that moved, or came, by their full names."""
    names = (*(move.name for move in found.moves), *found.only_new, *(d.dart for d in found.darts))
    return dict.fromkeys(names, Emphasis.MOVED)


def _before(found: Comparison, piece: Piece) -> Iterator[Item]:
    """Yield the old lines, but those that lie as the new ones do."""
    stays = {edge.name for edge in found.edges if not edge.moved}
    gone = {dart.dart for dart in found.darts}
    for edge in piece.edges:
        if f"{piece.name}.{edge.name}" not in stays:
            yield from edge_lines(piece, edge, BEFORE, ".before")
        for dart in dart_lines(piece, edge, BEFORE, ".before"):
            if any(
                dart.id == f"{piece.name}.dart.{each.partition('.')[2]}.before" for each in gone
            ):
                yield dart


def _marks(
    moves: Sequence[EdgeMove],
    numbers: dict[str, int],
    size: float,
    drawn: BaseGeometry,
    room: Rectangle | None,
) -> Iterator[Item]:
    targets = [(move.old_place + move.new_place) / 2 for move in moves]
    measured = [_segment(move.old_place, move.new_place) for move in moves]
    lines = shapely.GeometryCollection([drawn, *measured])
    stands = places(targets, 0.75 * size, lines, room.polygon if room else None)
    for move, target, at in zip(moves, targets, stands, strict=True):
        number = numbers[move.name]
        yield Dimension(move.old_place, move.new_place, 0.3 * size, f"move.{number}")
        yield Mark(number, at, 0.75 * size, target, id=f"mark.{number}")


def _drawn(found: Comparison, name: str) -> BaseGeometry:
    drafts = [draft for draft in (found.old, found.new) if draft.has_piece(name)]
    rings = [shapely.LinearRing(coordinates(d.piece(name).outline_points)) for d in drafts]
    return shapely.GeometryCollection(rings)


def _segment(start: Point, end: Point) -> BaseGeometry:
    return shapely.LineString(coordinates([start, end]))


def _middle(piece: Piece) -> Point:
    inside = piece.cloth.representative_point()
    return complex(inside.x, inside.y)


def _list(caption: Caption, size: float, top: float) -> Iterator[Item]:
    moves = ((number, text) for number, text in enumerate(caption.moves, start=1))
    notes = ((None, text) for text in caption.notes)
    for line, (number, text) in enumerate(chain[tuple[int | None, str]](moves, notes)):
        at = complex(_MARGIN, top + 1.6 * line * size)
        if number is not None:
            yield Mark(number, at + (0.8 - 0.35j) * size, 0.7 * size)
        yield Words(text, at + (2.4 * size if number is not None else 0), size)
