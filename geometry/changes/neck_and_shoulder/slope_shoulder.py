"""slope-shoulder: lower or raise the shoulder point about the neck point."""

import math

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import flag, length
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.points import Motion, turn_between
from trueup.geometry.measuring.measures import CAP_EASE, sewn_span
from trueup.geometry.pieces.bodice import bodice_names
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.move_corner import (
    both_carried,
    start_carried,
    start_cut,
    start_motion,
    stretched,
    turned_about_start,
)
from trueup.geometry.said import said

_STEEPEST = math.sin(math.radians(75))


@kind("slope-shoulder", version=3, unfair=2, unfinished=1)
class SlopeShoulder(ByAmount):
    """Lower the shoulder point by an amount, measured square down; a negative amount raises it.

    On front and back the shoulder seam, any dart in it closed, is turned about the neck point, so
    that its length stays. The armhole is redrawn up to the new shoulder point, fading to nothing
    at the underarm. Armhole and neck line keep their angles to the shoulder, so both still run on
    smoothly across the seam; for that a curved neck line is trued at the neck point.

    With `with_underarm` the underarm goes down the side seam by the same amount, so that the
    armhole keeps its depth and, but for its top, its shape; the side seams grow shorter by it.
    """

    about = "shoulder"
    fair = True
    phrases = ("lower the shoulder point", "raise the shoulder point")
    either_way = "slope the shoulder"

    by: float = length("how far the shoulder point is lowered", low=-150, high=150, zero=False)
    with_underarm: bool = flag("lower the underarm by the same amount, keeping the armhole's shape")

    def on(self, piece: Piece, by: float) -> Piece:
        old = piece.edge("shoulder")
        radians = _turn(old, by)
        shoulder, moved = turned_about_start(old, radians)
        neck = self._neck(piece.edge("neck"), radians)
        armhole, side = piece.edge("armhole"), piece.edge("side")
        if self.with_underarm:
            new_side = start_cut(side, by)
            below = start_motion(side, new_side)
            armhole = both_carried(armhole, moved, below, shoulder.end, new_side.start)
            return piece.with_edges(neck, shoulder, armhole, new_side)
        return piece.with_edges(neck, shoulder, start_carried(armhole, moved, shoulder.end))

    def _neck(self, neck: Edge, radians: float) -> Edge:
        """Return the neck line turned at its end along with the shoulder."""
        turn = Motion.turn(neck.end, radians)
        return stretched(neck, 1j, Motion(), turn, neck.start, neck.end)

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return tuple(f"{name}.shoulder-drop" for name in bodice_names(draft))

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        edges = ("armhole", "side") if self.with_underarm else ("armhole",)
        return (*(f"{n}.{edge}" for n in bodice_names(draft) for edge in edges), CAP_EASE)


def _turn(shoulder: Edge, by: float) -> float:
    """Return the turn about the neck point, in radians, that lowers the end by an amount."""
    span = sewn_span(shoulder)
    drop = span.imag + by
    if abs(drop) > abs(span) * _STEEPEST:
        raise DoesNotFit(said("seam-on-end"), edge="shoulder")
    level = math.copysign(math.sqrt(abs(span) ** 2 - drop**2), span.real)
    return turn_between(span, complex(level, drop))
