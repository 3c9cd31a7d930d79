"""lower-neck: drop the neck line at the centre."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.points import Motion, dot
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.move_corner import end_cut, end_motion, stretched
from trueup.geometry.said import said
from trueup.geometry.tolerance import SHORTEST_LEFT


@kind("lower-neck", version=3, unfair=2, unfinished=1)
class LowerNeck(ByAmount):
    """Lower the neck line of the front or the back at its centre; a negative amount raises it.

    The centre of the neck moves along the centre line, and the neck line is stretched down to it:
    it stays square to the centre and keeps its angle to the shoulder where it is curved, and a V
    or a square neck keeps its straight lines. The neck point and the shoulder stay.
    """

    about = "neck"
    fair = True
    phrases = ("lower the neck", "raise the neck")

    piece: str = name("piece whose neck is lowered", choices=("front", "back"), of="piece")
    by: float = length("how far it is lowered at the centre", low=-400, high=400, zero=False)

    def on(self, piece: Piece, by: float) -> Piece:
        centre, neck = piece.edge("centre"), piece.edge("neck")
        down = -centre.parts[-1].end_tangent
        if dot(neck.start - neck.end, down) + by < SHORTEST_LEFT:
            raise DoesNotFit(said("centre-up-to-neck-point"), edge="neck")
        new_centre = end_cut(centre, by)
        moved = end_motion(centre, new_centre)
        new_neck = stretched(neck, down, moved, Motion(), new_centre.end, neck.end)
        return piece.with_edges(new_centre, new_neck)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.piece}.neck-depth",)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.piece}.neck", f"{self.piece}.centre")
