"""A small picture of what moved: the old line dashed under the new, hatched, without a word in it.

It stands beside words that say the same, in lists; `overlay` is the large one with its key.
"""

from collections.abc import Iterator

from trueup.cli.drawing.overlay import box_of_both, moved_lines, what_moved
from trueup.cli.drawing.piece.pieces import seam_lines
from trueup.cli.drawing.scene.layout import in_a_row
from trueup.cli.drawing.scene.scene import Group, Item, Scene
from trueup.geometry.comparing.comparison import Comparison

_MARGIN = 12.0
_GAP = 30.0
_LEAST = 300.0  # mm across or down, so that no piece is drawn with thicker lines than another
_PEN = 1 / 180  # of the picture: it is seen some two hundred pixels wide


def small_overlay(found: Comparison, title: str) -> Scene:
    """Return the picture of the pieces on which something changed, as they were and as they are."""
    names = found.changed_pieces or found.new.piece_names
    boxes = [box_of_both(found, name) for name in names]
    row = in_a_row(boxes, _MARGIN, _MARGIN, _GAP)
    pieces = [
        Group(tuple(_piece(found, name)), name, motion)
        for name, motion in zip(names, row.motions, strict=True)
    ]
    width, height = row.right + _MARGIN, row.bottom + _MARGIN
    return Scene(width, height, title, tuple(pieces), max(width, height, _LEAST) * _PEN)


def _piece(found: Comparison, name: str) -> Iterator[Item]:
    yield from what_moved(found, name)
    if found.new.has_piece(name):
        yield from seam_lines(found.new.piece(name), moved_lines(found))
