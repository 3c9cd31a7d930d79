"""widen-neck, version 1: a neck line that is stretched far waves at its ends."""

import math

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.points import Motion, Point, dot
from trueup.geometry.pieces.bodice import bodice_names
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.move_corner import start_cut, start_motion, stretched
from trueup.geometry.said import said
from trueup.geometry.tolerance import SHORTEST_LEFT


@kind("widen-neck")
class FirstWidenNeck(ByAmount):
    """Take the neck point out along the shoulder seam, on front and back by the same amount.

    Each shoulder becomes shorter by the amount; its shoulder point stays. The neck lines are
    stretched out to the new neck points: where they are curved they keep their angle to the
    shoulder and stay square to the centre; a V or a square neck keeps its straight lines. The
    centre of the neck stays: lower it with lower-neck. A negative amount narrows the neck; the
    shoulder is then drawn on straight towards it.
    """

    about = "neck"
    finished = False
    phrases = ("widen the neck", "narrow the neck")

    by: float = length("how far each neck point moves out", low=-100, high=150, zero=False)

    def on(self, piece: Piece, by: float) -> Piece:
        shoulder, neck = piece.edge("shoulder"), piece.edge("neck")
        new_shoulder = start_cut(shoulder, by)
        moved = start_motion(shoulder, new_shoulder)
        down = -piece.edge("centre").parts[-1].end_tangent
        _require_extent(neck, down, new_shoulder.start)
        new_neck = self.redrawn(neck, down, moved, new_shoulder.start)
        return piece.with_edges(new_neck, new_shoulder)

    def redrawn(self, neck: Edge, down: complex, moved: Motion, end: Point) -> Edge:
        """Return the neck line drawn out to its new end, which moves by a motion."""
        return stretched(neck, down, Motion(), moved, neck.start, end)

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return tuple(f"{name}.shoulder" for name in bodice_names(draft))

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        measures = ("neck-width", "neck")
        return tuple(f"{name}.{measure}" for name in bodice_names(draft) for measure in measures)


def _require_extent(neck: Edge, down: complex, end: Point) -> None:
    """Refuse a neck point that would come to lie on the centre, or level with its top."""
    for axis, there in ((down, said("neck-down-to-centre")), (down * 1j, said("neck-to-centre"))):
        was, becomes = dot(neck.start - neck.end, axis), dot(neck.start - end, axis)
        if math.copysign(becomes, was * becomes) < SHORTEST_LEFT:
            raise DoesNotFit(there, edge="neck")
