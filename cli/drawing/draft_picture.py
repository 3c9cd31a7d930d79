"""A picture of a draft: its pieces side by side with their cutting lines, conflicts numbered."""

from collections.abc import Iterator, Mapping

from cli.drawing.layout import in_a_row, text_room
from cli.drawing.pieces import cut_box, cutting_item, piece_items
from cli.drawing.scene import Group, Item, Mark, Scene, Sign, Words
from geometry.draft import Draft
from geometry.piece import Piece

_MARGIN = 12.0
_GAP = 30.0


def draft_picture(draft: Draft, title: str, marked: Mapping[str, int] | None = None) -> Scene:
    """Return a picture of a draft.

    `marked` are numbers to set at edges (`front.armhole`): conflicts, as they are listed beside it.
    """
    boxes = [cut_box(piece) for piece in draft.pieces]
    pen = max(sum(box.width + _GAP for box in boxes) / 1000, 0.2)
    letters = 14 * pen
    row = in_a_row(boxes, _MARGIN, _MARGIN + 3 * letters, _GAP + 2 * letters)
    items: list[Item] = [Words(title, complex(_MARGIN, _MARGIN + letters), letters, bold=True)]
    for piece, motion in zip(draft.pieces, row.motions, strict=True):
        inner = [*cutting_item(piece), *piece_items(piece, letters)]
        inner += _marks(piece, marked or {}, letters)
        items.append(Group(tuple(inner), piece.name, motion))
    width = max(row.right, _MARGIN + text_room(title, letters)) + _MARGIN
    return Scene(width, row.bottom + _MARGIN, title, tuple(items), pen)


def _marks(piece: Piece, marked: Mapping[str, int], letters: float) -> Iterator[Item]:
    for edge in piece.edges:
        number = marked.get(f"{piece.name}.{edge.name}")
        if number is not None:
            place = edge.point_at(edge.length / 2)
            along = edge.end - edge.start
            inwards = piece.inward * along / (abs(along) or 1.0)
            at = place + inwards * 2.5 * letters
            yield Mark(number, at, 0.8 * letters, place, Sign.WARNING, f"conflict.{number}")
