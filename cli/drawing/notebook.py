"""A draft or a piece shown in a notebook.

from trueup.cli.drawing.notebook import show
show(wardrobe.evaluator.draft("village"), "village")
"""

from dataclasses import dataclass
from itertools import count

from trueup.cli.drawing.draft_picture import draft_picture
from trueup.cli.drawing.scene.scene import Scene
from trueup.cli.drawing.scene.writer import svg_text
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece

_numbers = count(1)


@dataclass(frozen=True)
class Shown:
    """A picture that a notebook displays by itself."""

    scene: Scene

    def _repr_svg_(self) -> str:
        # Pictures of one notebook share a page, on which no id may stand twice.
        return svg_text(self.scene, prefix=f"picture-{next(_numbers)}.")


def show(thing: Draft | Piece, title: str = "") -> Shown:
    """Return the picture of a draft or of one piece, for a notebook to display."""
    draft = Draft((thing,)) if isinstance(thing, Piece) else thing
    return Shown(draft_picture(draft, title or ", ".join(draft.piece_names)))
