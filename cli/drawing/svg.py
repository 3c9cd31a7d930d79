"""A draft as a plain SVG at true scale: one unit is one millimetre, for any tool to measure.

Every edge is one path with the id `piece.edge`; where darts part it, `piece.edge.1`, `.2` and so
on in ring order. Darts are `piece.dart.NAME`: leg, tip, leg; a double-pointed one all round.
"""

from trueup.cli.drawing.piece.pieces import piece_box, piece_items
from trueup.cli.drawing.scene.layout import in_a_row
from trueup.cli.drawing.scene.scene import Group, Scene
from trueup.cli.drawing.scene.writer import svg_text
from trueup.geometry.pieces.draft import Draft

MARGIN = 10.0
GAP = 30.0


def draft_svg(draft: Draft, title: str) -> str:
    """Return a draft as the text of an SVG document, its pieces side by side, lengths in mm."""
    return svg_text(draft_scene(draft, title))


def draft_scene(draft: Draft, title: str) -> Scene:
    """Return a draft at true scale, its seam lines by name, its pieces side by side."""
    row = in_a_row([piece_box(piece) for piece in draft.pieces], MARGIN, MARGIN, GAP)
    items = tuple(
        Group(tuple(piece_items(piece)), piece.name, motion)
        for piece, motion in zip(draft.pieces, row.motions, strict=True)
    )
    return Scene(row.right + MARGIN, row.bottom + MARGIN, title, items, is_picture=False)
