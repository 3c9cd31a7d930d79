"""Where things go on a page: boxes in a row, and the room a text takes. Lengths in mm."""

import textwrap
from collections.abc import Sequence
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


def text_room(text: str, size: float) -> float:
    """Return about how much room a line of text takes, rather more than less."""
    return _WIDEST_LETTER * size * len(text)


def wrapped(text: str, size: float, room: float) -> tuple[str, ...]:
    """Return a text as lines that take no more than the room, as far as its words let them."""
    letters = max(int(room / (_WIDEST_LETTER * size)), 1)
    return tuple(textwrap.wrap(text, letters, break_long_words=False, break_on_hyphens=False))
