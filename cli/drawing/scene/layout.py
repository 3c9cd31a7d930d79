"""Where things go on a page: boxes in a row, and the room a text takes. Lengths in mm."""

import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.geometry.lines.points import Motion

_WIDEST_LETTER = 0.62  # share of its size; few letters of a plain face are wider


@dataclass(frozen=True)
class Row:
    """Boxes side by side: how each is to be moved, and where the row ends."""

    motions: tuple[Motion, ...]
    right: float
    bottom: float


def in_a_row(boxes: Sequence[Rectangle], left: float, top: float, gap: float) -> Row:
    """Return boxes placed side by side, their upper edges level."""
    motions, right, bottom = [], left, top
    for box in boxes:
        motions.append(Motion(shift=complex(right - box.left, top - box.top)))
        right += box.width + gap
        bottom = max(bottom, top + box.height)
    return Row(tuple(motions), right - gap if boxes else left, bottom)


TALL = 1.1
"""The height over the width at which boxes in rows are best looked at on a page."""


def in_rows(boxes: Sequence[Rectangle], left: float, top: float, gap: float) -> Row:
    """Return boxes placed in as many rows as make the picture about as wide as high, in order."""
    if not boxes:
        return Row((), left, top)
    tried = [_rows_within(boxes, room, left, top, gap) for room in _rooms(boxes, gap)]
    return min(tried, key=lambda rows: max(rows.right * TALL, rows.bottom))


def _rooms(boxes: Sequence[Rectangle], gap: float) -> Iterator[float]:
    """Yield the widths a row may have: that of the first so many boxes, and of the widest."""
    widest, taken = max(box.width for box in boxes), 0.0
    for box in boxes:
        taken += box.width + gap
        yield max(taken - gap, widest)


def _rows_within(
    boxes: Sequence[Rectangle], room: float, left: float, top: float, gap: float
) -> Row:
    rows: list[list[Rectangle]] = [[]]
    taken = 0.0
    for box in boxes:
        if rows[-1] and taken + box.width > room + 1e-6:
            rows.append([])
            taken = 0.0
        rows[-1].append(box)
        taken += box.width + gap
    motions: list[Motion] = []
    right = left
    for row in rows:
        placed = in_a_row(row, left, top, gap)
        motions += placed.motions
        right, top = max(right, placed.right), placed.bottom + gap
    return Row(tuple(motions), right, top - gap)


def text_room(text: str, size: float) -> float:
    """Return about how much room a line of text takes, rather more than less."""
    return _WIDEST_LETTER * size * len(text)


def wrapped(text: str, size: float, room: float) -> tuple[str, ...]:
    """Return a text as lines that take no more than the room, as far as its words let them."""
    letters = max(int(room / (_WIDEST_LETTER * size)), 1)
    return tuple(textwrap.wrap(text, letters, break_long_words=False, break_on_hyphens=False))
