"""Raise the crown of a sleeve cap over a stretch of it, fading to nothing at both its ends."""

from dataclasses import replace

from trueup.geometry.lines.points import Point, unit
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.sleeve_cap import crown
from trueup.geometry.redrawing.marks import carried_notch
from trueup.geometry.redrawing.move_corner import evenly, meeting
from trueup.geometry.redrawing.trued_dart import Field, displaced
from trueup.geometry.tolerance import SAME_POINT


def crown_raised(sleeve: Piece, stretch: tuple[float, float], by: float) -> Piece:
    """Return a sleeve with the crown of its cap `by` mm higher above the cap line.

    The raising is level at the crown and fades evenly to nothing at both ends of the stretch, two
    lengths along the cap; beyond them the cap stays. Notches between go up with it.
    """
    cap = sleeve.edge("cap")
    if abs(by) < SAME_POINT:
        return sleeve
    line, (low, high) = cap.parts[0], stretch
    field = _raising(cap, stretch, by)
    top = _crown_at(cap)
    raised = displaced(line.cut_at([low, top, high]), field)
    new = meeting(replace(cap, parts=(raised,)), cap.start, cap.end)

    def moved(at: float) -> Point:
        return line.point_at(at) + field(at)[0]

    notches = tuple(carried_notch(notch, cap, new, stretch, moved) for notch in sleeve.notches)
    return replace(sleeve.with_edges(new), notches=notches)


def crown_lies_in(sleeve: Piece, stretch: tuple[float, float]) -> bool:
    """Return whether the crown of a cap lies inside a stretch of it."""
    return stretch[0] < _crown_at(sleeve.edge("cap")) < stretch[1]


def _crown_at(cap: Edge) -> float:
    line = cap.parts[0]
    top = crown(line)
    before = sum(cubic.length for cubic in line.cubics[: top.index])
    return before + line.cubics[top.index].length_between(0.0, top.t)


def _raising(cap: Edge, stretch: tuple[float, float], by: float) -> Field:
    """Return how far each place along a cap goes up, square to its cap line."""
    low, high = stretch
    top, line = _crown_at(cap), cap.parts[0]
    across = unit(line.end - line.start)
    up = across * 1j * (1 if crown(line).rise > 0 else -1)
    rising, falling = evenly(top - low), evenly(high - top)

    def field(at: float) -> tuple[complex, complex]:
        if at < top:
            share, slope = rising(top - max(at, low))
            return up * by * share, -up * by * slope
        share, slope = falling(min(at, high) - top)
        return up * by * share, up * by * slope

    return field
