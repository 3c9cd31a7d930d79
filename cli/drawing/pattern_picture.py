"""The picture of a pattern's page: its pieces as they are cut, in layers that a page can switch.

No sentence stands in it: its page tells what it shows. Each edge is a group that knows its name, so
that a page can tell of the one that is chosen; conflicts are numbered signs.
"""

from collections.abc import Iterator, Sequence
from enum import Enum

from trueup.cli.drawing.conflict_place import place_of, signs, with_signs
from trueup.cli.drawing.overlay import what_moved
from trueup.cli.drawing.piece.naming import name_place, named_box
from trueup.cli.drawing.piece.pieces import (
    cut_box,
    cutting_item,
    dart_lines,
    edge_lines,
    inner_lines,
    notch_lines,
)
from trueup.cli.drawing.scene.layout import TALL, Row, in_rows
from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.drawing.scene.scene import Group, Item, Mark, Scene, Words
from trueup.geometry.comparing.comparison import Comparison
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pleats.laid_open import as_cut
from trueup.lineage.files.records import ConflictRecord

_MARGIN = 8.0
_GAP = 16.0
_ACROSS = 620.0  # pixels wide is the column of a page; on a phone it is not much more than half
_LETTERS = 20.9  # pixels high there, so that they are still 11 on a narrow phone
_FITTINGS = 2
_LEAST = 200.0  # mm across, so that no small piece is drawn in thin lines


class PictureLayer(Enum):
    """What of the picture can be switched."""

    SEAM = "seam"
    CUT = "cut"
    MOVED = "moved"
    NOTCH = "notch"
    NAME = "name"


def pattern_picture(
    draft: Draft,
    title: str,
    conflicts: Sequence[ConflictRecord] = (),
    moved: Comparison | None = None,
) -> Scene:
    """Return the picture of a draft; conflicts are numbered in order, from 1.

    Of the pieces that `moved` compares with what they were, what moved is drawn in a layer of its
    own.
    """
    draft = as_cut(draft)
    boxes = [cut_box(piece) for piece in draft.pieces]
    pen = _pen(in_rows(boxes, _MARGIN, _MARGIN, _GAP))
    marks, rows = _placed(draft, boxes, conflicts, pen)
    # Signs take room, and letters are to be as large beside them; larger ones take some more.
    for _ in range(_FITTINGS if any(marks) else 0):
        pen = max(pen, _pen(rows))
        marks, rows = _placed(draft, boxes, conflicts, pen)
    pieces = tuple(
        Group((*_piece(piece, _LETTERS * pen, moved), *signed), piece.name, motion)
        for piece, signed, motion in zip(draft.pieces, marks, rows.motions, strict=True)
    )
    width = max(rows.right + _MARGIN, _LEAST)
    return Scene(width, rows.bottom + _MARGIN, title, pieces, pen)


def _pen(rows: Row) -> float:
    """Return how many mm a pixel is where pieces in rows are seen whole."""
    return max(rows.right, rows.bottom / TALL, _LEAST) / _ACROSS


def _placed(
    draft: Draft, boxes: Sequence[Rectangle], conflicts: Sequence[ConflictRecord], pen: float
) -> tuple[list[tuple[Mark, ...]], Row]:
    """Return the signs beside each piece, and where the pieces lie with these and their names."""
    letters = _LETTERS * pen
    marks = [_signs(piece, draft, conflicts, letters) for piece in draft.pieces]
    rooms = [
        with_signs(named_box(piece, box, letters), signed)
        for piece, box, signed in zip(draft.pieces, boxes, marks, strict=True)
    ]
    return marks, in_rows(rooms, _MARGIN, _MARGIN, _GAP + letters)


def _signs(
    piece: Piece, draft: Draft, conflicts: Sequence[ConflictRecord], letters: float
) -> tuple[Mark, ...]:
    found = [
        (number, place_of(each, draft))
        for number, each in enumerate(conflicts, start=1)
        if each.piece == piece.name
    ]
    return tuple(signs(found, [piece], letters))


def layers_of(scene: Scene) -> frozenset[PictureLayer]:
    """Return the layers in which anything is drawn."""
    inner = (item for piece in scene.items if isinstance(piece, Group) for item in piece.items)
    names = {item.layer for item in inner if isinstance(item, Group) and item.items}
    return frozenset(layer for layer in PictureLayer if layer.value in names)


def _piece(piece: Piece, letters: float, moved: Comparison | None) -> Iterator[Item]:
    if moved and piece.name in moved.changed_pieces and _is_drawn(piece, moved):
        yield _layer(PictureLayer.MOVED, what_moved(moved, piece.name))
    yield _layer(PictureLayer.CUT, cutting_item(piece))
    yield _layer(PictureLayer.SEAM, _edges(piece))
    yield from inner_lines(piece)
    yield _layer(PictureLayer.NOTCH, notch_lines(piece))
    name = Words(piece.name, name_place(piece, letters), letters)
    yield _layer(PictureLayer.NAME, iter([name]))


def _is_drawn(piece: Piece, moved: Comparison) -> bool:
    """Return whether a comparison is of a piece as it is drawn, with no pleat laid open."""
    return moved.new.has_piece(piece.name) and moved.new.piece(piece.name) is piece


def _edges(piece: Piece) -> Iterator[Item]:
    for edge in piece.edges:
        yield Group(tuple(edge_lines(piece, edge)), edge=f"{piece.name}.{edge.name}")
        yield from dart_lines(piece, edge)


def _layer(layer: PictureLayer, items: Iterator[Item]) -> Group:
    return Group(tuple(items), layer=layer.value)
