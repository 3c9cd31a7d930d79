"""A picture of a draft: its pieces side by side with their cutting lines, conflicts numbered."""

from collections.abc import Sequence
from dataclasses import dataclass

from trueup.cli.drawing.apart import PageScale
from trueup.cli.drawing.conflict_place import place_of, signs
from trueup.cli.drawing.paragraphs import LINE, numbered
from trueup.cli.drawing.piece.naming import named_box
from trueup.cli.drawing.piece.pieces import cut_box, cutting_item, piece_items
from trueup.cli.drawing.scene.layout import in_a_row, text_room, wrapped
from trueup.cli.drawing.scene.scene import Group, Item, Scene, Words
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pleats.laid_open import as_cut
from trueup.lineage.files.records import ConflictRecord

_MARGIN = 12.0
_GAP = 30.0
_LEAST = 60  # letters of a text have room in one line


@dataclass(frozen=True)
class Marked:
    """A conflict to mark in the picture of a draft, and what is written of it below."""

    conflict: ConflictRecord
    says: str


def pieces_of_draft(draft: Draft, title: str, *, small: bool = False) -> tuple[Scene, ...]:
    """Return the pieces of a draft as it is cut as pictures of a page, one a piece."""
    draft = as_cut(draft)
    boxes = {piece: cut_box(piece) for piece in draft.pieces}
    scale = PageScale.of(boxes.values(), small=small)
    return tuple(
        scale.scene(
            piece.name,
            scale.named(piece, box),
            (*cutting_item(piece), *piece_items(piece, scale.letters)),
            title,
        )
        for piece, box in boxes.items()
    )


def draft_picture(draft: Draft, title: str, marked: Sequence[Marked] = ()) -> Scene:
    """Return a picture of a draft as it is cut; conflicts are numbered in order, from 1."""
    draft = as_cut(draft)
    boxes = [cut_box(piece) for piece in draft.pieces]
    across, down = (
        sum(box.width + _GAP for box in boxes),
        max((box.height for box in boxes), default=0.0),
    )
    # A tall narrow piece makes no picture whose letters are lost beside it.
    pen = max(across, 1.4 * down, 200.0) / 1000
    letters = 14.1 * pen
    boxes = [named_box(piece, box, letters) for piece, box in zip(draft.pieces, boxes, strict=True)]
    row = in_a_row(boxes, _MARGIN, _MARGIN + 3 * letters, _GAP + 2 * letters)
    items: list[Item] = [Words(title, complex(_MARGIN, _MARGIN + letters), letters, bold=True)]
    for piece, motion in zip(draft.pieces, row.motions, strict=True):
        inner = [*cutting_item(piece), *piece_items(piece, letters)]
        found = [
            (number, place_of(each.conflict, draft))
            for number, each in enumerate(marked, start=1)
            if each.conflict.piece == piece.name
        ]
        inner += signs(found, [piece], letters)
        items.append(Group(tuple(inner), piece.name, motion))
    room = max(row.right - _MARGIN, text_room(title, letters))
    bottom = row.bottom
    if marked:
        room = max(room, text_room("n" * _LEAST, letters))
        bottom += LINE * letters
    for number, each in enumerate(marked, start=1):
        lines = wrapped(each.says, letters, room - 3 * letters)
        at = complex(_MARGIN, bottom + LINE * letters)
        items.extend(numbered(number, lines, at, letters))
        bottom += (LINE * len(lines) + 0.4) * letters
    return Scene(room + 2 * _MARGIN, bottom + _MARGIN, title, tuple(items), pen)
