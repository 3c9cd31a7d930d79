"""Pieces drawn apart: each a picture of its own, all to one scale, for a page to let them flow.

A piece is no wider than a phone, and letters are as high whatever is drawn: what has to be read is
read on any page. Nothing is written but the names of pieces and numbers; their key is the page's.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from trueup.cli.drawing.piece.naming import named_box
from trueup.cli.drawing.scene.rectangle import Rectangle
from trueup.cli.drawing.scene.scene import Group, Item, Scene
from trueup.geometry.lines.points import Motion
from trueup.geometry.pieces.piece import Piece

_LETTERS = 14.0  # pixels high is a name
AROUND, _CLOSE = 2.4, 0.8
"""So many letters of room are around a piece, for the numbers beside it; and where it has none."""
_WIDEST = 328.0 - 2 * AROUND * _LETTERS  # pixels
_TALLEST, _SMALL = 470.0, 340.0  # pixels, so that a long piece is seen whole; all of them at once
_FINEST = 0.75  # mm to a pixel: a cuff is not drawn as large as a coat


@dataclass(frozen=True)
class PageScale:
    """To which scale pieces are drawn: `pen` is mm to a pixel; `around` are letters of room."""

    pen: float
    around: float = AROUND

    @classmethod
    def of(cls, boxes: Iterable[Rectangle], *, small: bool = False) -> "PageScale":
        """Return the scale at which the widest and the tallest of some pieces are seen whole.

        Drawn `small`, the pieces of a garment are seen beside one another, without numbers.
        """
        tallest = _SMALL if small else _TALLEST
        found = [max(box.width / _WIDEST, box.height / tallest) for box in boxes]
        return cls(max([_FINEST, *found]), _CLOSE if small else AROUND)

    @property
    def letters(self) -> float:
        """Return how high letters are, mm."""
        return _LETTERS * self.pen

    def room(self, box: Rectangle) -> Rectangle:
        """Return all that is seen around a piece, its numbers beside it."""
        around = self.around * self.letters
        return Rectangle(
            box.left - around, box.top - around, box.right + around, box.bottom + around
        )

    def scene(self, name: str, box: Rectangle, items: Sequence[Item], title: str) -> Scene:
        """Return the picture of one piece."""
        seen = self.room(box)
        motion = Motion(shift=complex(-seen.left, -seen.top))
        drawn = Group(tuple(items), name, motion)
        return Scene(seen.width, seen.height, f"{title}: {name}", (drawn,), self.pen)

    def named(self, piece: Piece, box: Rectangle) -> Rectangle:
        """Return a box around a piece with the room of its name in it."""
        return named_box(piece, box, self.letters)
