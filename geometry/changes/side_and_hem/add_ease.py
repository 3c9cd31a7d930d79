"""add-ease: let the whole side seam out, front and back alike."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.by_amount import ByAmount
from trueup.geometry.changes.declaring import length
from trueup.geometry.lines.points import Motion, Point
from trueup.geometry.measuring.measures import CAP_EASE
from trueup.geometry.pieces.bodice import bodice_names
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.move_corner import carried, end_carried, meeting, taper

_STEPS = 4
_STEEPEST = 3.0


@kind("add-ease", version=3, unfair=2, unfinished=1)
class AddEase(ByAmount):
    """Add ease to the girth of the whole garment: a quarter of it at the side of front and back.

    The whole side seam moves out, square to the centre, and keeps its length and shape; armhole,
    or the waist of a skirt, and hem are drawn out to it. The armhole grows longer, so a sleeve set
    into it loses cap ease.
    A negative amount takes the garment in. On one side of the body half of it is added.
    """

    about = "side"
    fair = True
    phrases = ("add ease to the girth", "take in the girth")

    by: float = length(
        "ease added to the girth of the whole garment", low=-400, high=800, zero=False
    )

    def on(self, piece: Piece, by: float) -> Piece:
        old, within = piece.edge("side"), piece.edge("hem").end
        outward = 1.0 if old.start.real > within.real else -1.0
        at_hem = Motion(shift=complex(outward * by / 4, 0.0))
        side, at_underarm = _moved(old, at_hem)
        above = end_carried(piece.neighbours("side")[0], at_underarm, side.start)
        hem = _drawn_out(piece.edge("hem"), at_hem, side.end)
        return piece.with_edges(above, side, hem)

    def meant(self, draft: Draft) -> tuple[str, ...]:
        names = bodice_names(draft)
        level = "bust" if any(draft.piece(name).has_level("bust") for name in names) else "hip"
        return tuple(f"{name}.{level}-width" for name in names)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        return (*(f"{name}.armhole" for name in bodice_names(draft)), CAP_EASE)


def _moved(side: Edge, at_hem: Motion) -> tuple[Edge, Motion]:
    """Return the side moved as the hem end is, darts closed, and the motion of its first part.

    The part at the hem lies straight to the centre; one above a dart lies turned by the dart.
    """
    line = closed(side)
    last = line.motions[-1]
    step = last.after(at_hem).after(last.inverse())
    moved = line.opened(line.chain.moved(step))
    return meeting(moved, step(side.start), at_hem(side.end)), step


def _drawn_out(hem: Edge, motion: Motion, corner: Point) -> Edge:
    """Return the hem carried at the side; no further than its first dart, where that is enough.

    The carrying runs over at least three times the step, so that the hem never turns back.
    """
    line = closed(hem)
    reach = max(hem.parts[0].length, _STEEPEST * abs(corner - hem.start))
    reach = min(reach, line.chain.length)
    chain = line.chain.cut_at([reach * k / _STEPS for k in range(1, _STEPS + 1)])
    return meeting(line.opened(carried(chain, (motion, taper(reach)))), corner, hem.end)
