"""Let down a hem to a lower one, and keep what is marked on a piece right when its hem moves."""

from dataclasses import replace
from functools import lru_cache

from trueup.geometry.lines import fade
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_join
from trueup.geometry.lines.points import Motion, Point
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.dart import InnerDart, Mouth
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Level, Piece
from trueup.geometry.redrawing.marks import is_there
from trueup.geometry.redrawing.move_corner import EDGES_AT_HAND, end_motion, meeting, start_motion

WAIST, HIP = "waist", "hip"

DART_BELOW_WAIST = 130.0
"""How far a double-pointed waist dart runs below the waist, mm (common practice, no source)."""

HIP_BELOW_WAIST = 200.0
"""How far the hip lies below the waist, mm (common practice, no source)."""

_IN_CLOTH = 0.9
"""A dart ends within this share of what lies below the waist, so that the hem stays whole."""

_STUMP = 0.3
"""The least share of it that a dart takes."""


def let_down(piece: Piece, side: Edge, centre: Edge, to_spare: float = 0.0) -> Piece:
    """Return a piece of a bodice whose side and centre were drawn on to a lower hem.

    Darts that opened on a hem at the waist become double-pointed and the new hem is one smooth
    line; any other hem keeps its shape, and its darts. The corner angles at both ends stay. A
    level that ran along the hem stays where it was; a hip level is added where the hem reaches it.
    `to_spare` mm of cloth stay below the darts, unless next to nothing would be left of them.
    """
    hem = piece.edge("hem")
    at_side, at_centre = (
        end_motion(piece.edge("side"), side),
        start_motion(piece.edge("centre"), centre),
    )
    if hem.darts and ends_at_waist(piece):
        line = smooth_join(
            side.end,
            hem.parts[0].start_tangent * at_side.rotation,
            centre.start,
            hem.parts[-1].end_tangent * at_centre.rotation,
        )
        lower = replace(hem, parts=(line,), darts=())
        below = centre.start.imag - hem.end.imag
        inner = tuple(double_pointed(mouth, below, to_spare) for mouth in hem.mouths)
    else:
        lower = drawn_between(hem, at_side, at_centre, side.end, centre.start)
        inner = ()
    return replace(
        piece.with_edges(side, lower, centre),
        inner_darts=(*piece.inner_darts, *inner),
        notches=tuple(n for n in piece.notches if n.edge != "hem" or not inner),
        levels=_with_hip(piece.levels, hem, lower),
    )


@lru_cache(EDGES_AT_HAND)
def drawn_between(hem: Edge, at_start: Motion, at_end: Motion, start: Point, end: Point) -> Edge:
    """Return a hem fitted between two new corners, its ends turned as the edges it meets turned.

    `at_start` and `at_end` are the motions of those edges' ends. A straight hem whose ends turn
    alike becomes one even curve; one whose ends move alike keeps its shape. Darts are closed.
    """
    line = closed(hem)
    leaving = line.chain.start_tangent * at_start.rotation
    arriving = line.chain.end_tangent * at_end.rotation
    fitted = line.chain.fitted_between(start, line.to_closed_end(end))
    fitted = _start_turned(fitted, leaving)
    fitted = _start_turned(fitted.reversed(), -arriving).reversed()
    return meeting(line.opened(fitted), start, end)


def _start_turned(line: Chain, heading: complex) -> Chain:
    """Return a line that sets out in another direction; the turn s(1-s)² fades along all of it."""
    total = line.length

    def weight(length: float) -> tuple[float, float]:
        s = length / total
        return total * s * (1 - s) ** 2, (1 - s) * (1 - 3 * s)

    return fade.shifted(line, heading - line.start_tangent, weight)


def ends_at_waist(piece: Piece) -> bool:
    """Return whether the hem of a piece is its waist."""
    return any(level.name == WAIST and level.along == "hem" for level in piece.levels)


def double_pointed(mouth: Mouth, below: float, to_spare: float = 0.0) -> InnerDart:
    """Return a dart of the waist as a double-pointed one, with `below` mm of cloth under it.

    It leaves `to_spare` mm of them, unless next to nothing of the dart would be left there.
    """
    left, right = sorted((mouth.first, mouth.second), key=lambda point: point.real)
    room = max(below - to_spare, below * _STUMP)
    depth = min(below * _IN_CLOTH, room, DART_BELOW_WAIST)
    lower = (mouth.first + mouth.second) / 2 + complex(0.0, depth)
    return InnerDart(mouth.dart.name, mouth.tip, lower, left, right)


def _with_hip(levels: tuple[Level, ...], old: Edge, hem: Edge) -> tuple[Level, ...]:
    kept = tuple(
        replace(level, y=old.end.imag, along=None) if level.along == old.name else level
        for level in levels
    )
    waist = next((level for level in kept if level.name == WAIST), None)
    if waist is None or any(level.name == HIP for level in kept):
        return kept
    y = waist.y + HIP_BELOW_WAIST
    if hem.end.imag < y:
        return kept
    highest = min(point.imag for part in hem.parts for point in part.flattened())
    return (*kept, Level(HIP, y, along=hem.name if highest <= y else None))


def cut_off(piece: Piece) -> Piece:
    """Return a piece whose hem was raised, without the levels and notches that were cut off.

    A hip on the old hem went with it. The grainline is cut short where it would reach beyond.
    """
    hem = piece.edge("hem")
    lowest = max(point.imag for part in hem.parts for point in part.flattened())
    levels = tuple(
        level
        for level in piece.levels
        if level.y < lowest or (level.along == hem.name and level.name != HIP)
    )
    notches = tuple(notch for notch in piece.notches if is_there(piece, notch))
    changed = replace(piece, levels=levels, notches=notches, grainline=_within(piece, lowest))
    return at_hem(changed)


def at_hem(piece: Piece) -> Piece:
    """Return a piece whose levels that run along the hem lie where the hem now ends."""
    hem = piece.edge("hem")
    levels = tuple(
        replace(level, y=hem.end.imag) if level.along == hem.name else level
        for level in piece.levels
    )
    return replace(piece, levels=levels)


def _within(piece: Piece, lowest: float) -> Grainline | None:
    line = piece.grainline
    if line is None or line.end.imag < lowest or line.start.imag >= lowest:
        return line
    share = 0.9 * (lowest - line.start.imag) / (line.end.imag - line.start.imag)
    return replace(line, end=line.start + (line.end - line.start) * share)
