"""Let a line swell out over a stretch of it, as a crown is raised or a hem dipped."""

from dataclasses import replace

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point, unit
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.sleeve_cap import crown
from trueup.geometry.redrawing.marks import carried_notch
from trueup.geometry.redrawing.move_corner import evenly, meeting
from trueup.geometry.redrawing.trued_dart import Field, displaced
from trueup.geometry.tolerance import SAME_POINT


def crown_raised(sleeve: Piece, stretch: tuple[float, float], by: float) -> Piece:
    """Return a sleeve with the crown of its cap `by` mm higher above the cap line.

    The raising is level at the crown and fades to nothing at both ends of the stretch, two lengths
    along the cap.
    """
    cap = sleeve.edge("cap").parts[0]
    up = unit(cap.end - cap.start) * 1j * (1 if crown(cap).rise > 0 else -1)
    return swollen(sleeve, "cap", stretch, _crown_at(cap), up * by)


def crown_lies_in(sleeve: Piece, stretch: tuple[float, float]) -> bool:
    """Return whether the crown of a cap lies inside a stretch of it."""
    return stretch[0] < _crown_at(sleeve.edge("cap").parts[0]) < stretch[1]


def _crown_at(cap: Chain) -> float:
    top = crown(cap)
    before = sum(cubic.length for cubic in cap.cubics[: top.index])
    return before + cap.cubics[top.index].length_between(0.0, top.t)


def swollen(
    piece: Piece, name: str, stretch: tuple[float, float], top: float, step: Point
) -> Piece:
    """Return a piece with an edge moved by a step at a length along it, fading evenly on each side.

    It fades to nothing at both ends of the stretch, two lengths along the edge, which has no dart;
    beyond them the edge stays. Its directions there and at the top stay, and notches go along.
    """
    if abs(step) < SAME_POINT:
        return piece
    edge = piece.edge(name)
    line, field = edge.parts[0], swelling(stretch, top, step)
    drawn = displaced(line.cut_at([*stretch, top]), field)
    new = meeting(replace(edge, parts=(drawn,)), edge.start, edge.end)

    def moved(at: float) -> Point:
        return line.point_at(at) + field(at)[0]

    notches = tuple(carried_notch(notch, edge, new, stretch, moved) for notch in piece.notches)
    return replace(piece.with_edges(new), notches=notches)


def swelling(stretch: tuple[float, float], top: float, step: Point) -> Field:
    """Return how far a line moves that is moved by a step at a length, fading evenly each way."""
    low, high = stretch
    rising, falling = evenly(top - low), evenly(high - top)

    def field(at: float) -> tuple[complex, complex]:
        if at < top:
            share, slope = rising(top - max(at, low))
            return step * share, -step * slope
        share, slope = falling(min(at, high) - top)
        return step * share, step * slope

    return field
