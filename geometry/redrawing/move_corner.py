"""Move a corner of a piece, and redraw the edges that run up to it.

An edge is cut short or drawn on along itself; the edge that meets it there is redrawn up to the
new corner. Redrawing carries the moved end along rigidly, with the direction in which the line
meets its neighbour, and lets the carrying fade to nothing towards the other end, which stays as
it is with its direction. An edge with darts is redrawn with its darts closed.
"""

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines import fade
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.fade import Weight
from trueup.geometry.lines.interpolate import smooth_join
from trueup.geometry.lines.points import Motion, Point, cross, dot, unit
from trueup.geometry.pieces.closed_line import ClosedLine, closed
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT, SHORTEST_LEFT

EDGES_AT_HAND = 256
"""So many edges redrawn last are not redrawn again: the steps of a node redraw most of them alike
in all of its versions."""

_STEPS = 8
_EVEN_TO = 3 / 8
_EVENLY = 192 / 47


# --- along an edge --------------------------------------------------------------------------------


def end_cut(edge: Edge, by: float) -> Edge:
    """Return the edge `by` mm shorter at its end; drawn on straight when `by` is negative.

    Its darts are left alone. Raises DoesNotFit when the cut would reach the last dart or leave
    nothing of the edge.
    """
    last = edge.parts[-1]
    _require_room(edge, by, last, edge.darts[-1].name if edge.darts else None)
    return replace(edge, parts=(*edge.parts[:-1], _cut(last, by)))


def start_cut(edge: Edge, by: float) -> Edge:
    """Return the edge `by` mm shorter at its start; the mirror image of `end_cut`."""
    first = edge.parts[0]
    _require_room(edge, by, first, edge.darts[0].name if edge.darts else None)
    return replace(edge, parts=(_cut(first.reversed(), by).reversed(), *edge.parts[1:]))


def _require_room(edge: Edge, by: float, part: Chain, dart: str | None) -> None:
    if by <= part.length - SHORTEST_LEFT:
        return
    lost = said("reaches-dart", dart=dart) if dart else said("nothing-left")
    raise DoesNotFit(lost, edge=edge.name, dart=dart)


def _cut(chain: Chain, by: float) -> Chain:
    """Return a line cut `by` mm short at its end, or drawn on straight by as much."""
    if abs(by) < SAME_POINT:
        return chain
    if by > 0:
        return chain.between(0.0, chain.length - by)
    end = chain.end - chain.end_tangent * by
    last = chain.cubics[-1]
    if last.is_straight:
        return Chain((*chain.cubics[:-1], Cubic.line(last.start, end)))
    return Chain((*chain.cubics, Cubic.line(last.end, end)))


def end_motion(before: Edge, after: Edge) -> Motion:
    """Return the motion that takes the end of an edge, with its direction, to its new end."""
    return _motion(before.end, before.parts[-1].end_tangent, after.end, after.parts[-1].end_tangent)


def start_motion(before: Edge, after: Edge) -> Motion:
    """Return the motion that takes the start of an edge, with its direction, to its new start."""
    return _motion(
        before.start, before.parts[0].start_tangent, after.start, after.parts[0].start_tangent
    )


def _motion(was: Point, heading: complex, now: Point, new_heading: complex) -> Motion:
    rotation = unit(new_heading / heading)
    return Motion(rotation, now - rotation * was)


# --- the edge that meets it -----------------------------------------------------------------------


def taper(length: float) -> Weight:
    """Return the weight (1-s)³(1+3s): 1 at the start of a line, 0 at the end of `length` mm.

    It has no slope at either end and no bend at the far one, and has fallen to a third half way,
    so that a redrawn line keeps to the old one where it can.
    """

    def weight(at: float) -> tuple[float, float]:
        s = min(max(at / length, 0.0), 1.0)
        return (1 - s) ** 3 * (1 + 3 * s), -12 * s * (1 - s) ** 2 / length

    return weight


def evenly(length: float) -> Weight:
    """Return the weight from 1 at the start of a line to 0 at its end that bends it most evenly.

    It bends alike over three eighths of the `length`, mm, and back again over as much, and has no
    slope at either end: a line that has to come level at both turns no more tightly than it must.
    """

    def weight(at: float) -> tuple[float, float]:
        s = min(max(at / length, 0.0), 1.0)
        near = min(s, 1 - s)
        past = max(near - _EVEN_TO, 0.0)
        gone = _EVENLY * (near**2 / 2 - 4 / 3 * past**3)
        slope = _EVENLY * (near - 4 * past**2)
        return (1 - gone if s < 0.5 else gone), -slope / length

    return weight


def carried(chain: Chain, *moves: tuple[Motion, Weight]) -> Chain:
    """Return the line with each point moved by the weighted sum of several rigid motions.

    Where one weight is 1 and the others are 0, without slope, the line goes along rigidly.
    """
    cubics: list[Cubic] = []
    station = 0.0
    for cubic, far in chain.cubics_to([chain.length * k / _STEPS for k in range(1, _STEPS)]):
        start, start_arm = _moved(cubic.start, cubic.start_control - cubic.start, station, moves)
        end, end_arm = _moved(cubic.end, cubic.end - cubic.end_control, far, moves)
        start = cubics[-1].end if cubics else start
        cubics.append(Cubic(start, start + start_arm, end - end_arm, end))
        station = far
    return Chain(tuple(cubics))


def _moved(
    point: Point, arm: complex, station: float, moves: tuple[tuple[Motion, Weight], ...]
) -> tuple[Point, complex]:
    """Return a point and the arm to its control after the motions (Hermite form)."""
    new_point, new_arm = point, arm
    for motion, weight in moves:
        share, slope = weight(station)
        away = motion(point) - point
        new_point += share * away
        new_arm += share * (motion.rotation * arm - arm) + slope * abs(arm) * away
    return new_point, new_arm


@lru_cache(EDGES_AT_HAND)
def start_carried(
    edge: Edge,
    motion: Motion,
    start: Point | None = None,
    fading: Callable[[float], Weight] = taper,
) -> Edge:
    """Return the edge redrawn with its start carried by a motion; its end stays.

    `start` is the exact corner it must meet, when that is known; `fading` how the carrying fades
    over its length. Raises DoesNotFit when a dart no longer meets the redrawn line.
    """
    line = closed(edge)
    chain = carried(line.chain, (motion, fading(line.chain.length)))
    return meeting(line.opened(chain), start=start, end=edge.end)


@lru_cache(EDGES_AT_HAND)
def end_carried(edge: Edge, motion: Motion, end: Point | None = None) -> Edge:
    """Return the edge redrawn with its end carried by a motion; its start stays."""
    line = closed(edge)
    back = carried(
        line.chain.reversed(), (beside(line, motion), taper(line.chain.length))
    ).reversed()
    return meeting(line.opened(back), start=edge.start, end=end)


def both_carried(edge: Edge, at_start: Motion, at_end: Motion, start: Point, end: Point) -> Edge:
    """Return the edge with both ends carried, one motion passing smoothly into the other.

    Where both are the same shift, the edge keeps its shape. `start` and `end` are its new corners.
    """
    line = closed(edge)
    length = line.chain.length
    chain = carried(
        line.chain,
        (at_start, fade.falling(0.0, length)),
        (beside(line, at_end), fade.rising(0.0, length)),
    )
    return meeting(line.opened(chain), start=start, end=end)


def beside(line: ClosedLine, motion: Motion) -> Motion:
    """Return a motion of the last part's paper as it is done beside the closed line."""
    return line.motions[-1].after(motion).after(line.motions[-1].inverse())


def meeting(edge: Edge, start: Point | None = None, end: Point | None = None) -> Edge:
    """Return the edge with its ends put exactly on its corners; for rounding noise only."""
    parts = list(edge.parts)
    if start is not None:
        parts[0] = parts[0].starting_at(start)
    if end is not None:
        parts[-1] = parts[-1].ending_at(end)
    return replace(edge, parts=tuple(parts))


# --- turning an edge, stretching an edge ----------------------------------------------------------


def turned_about_start(edge: Edge, radians: float) -> tuple[Edge, Motion]:
    """Return the edge, darts closed, turned about its start and opened again; and the motion.

    Its length stays; each dart keeps its apex and angle. The motion is that of the paper beside
    its end. Raises DoesNotFit when a dart no longer meets the turned line.
    """
    line = closed(edge)
    turn = Motion.turn(edge.start, radians)
    turned = meeting(line.opened(line.chain.moved(turn)), start=edge.start)
    last = line.motions[-1]
    return turned, last.inverse().after(turn).after(last)


@lru_cache(EDGES_AT_HAND)
def stretched(
    edge: Edge, along: complex, at_start: Motion, at_end: Motion, start: Point, end: Point
) -> Edge:
    """Return the edge stretched along and square to a direction, to where its ends are taken.

    `start` and `end` are its new corners, exactly.

    Straight lines stay straight, and those along or square to the direction stay so. A curve is
    then turned at its ends, as the motions turn, so that it keeps the angles to the edges it meets.
    Raises DoesNotFit when a dart no longer meets the redrawn line.
    """
    line = closed(edge)
    old, last = line.chain, beside(line, at_end)
    origin = at_start(old.start)
    across = along * 1j
    reach, new_reach = old.end - old.start, last(old.end) - origin
    shares = [_ratio(dot(new_reach, axis), dot(reach, axis)) for axis in (along, across)]

    def placed(point: Point) -> Point:
        step = point - old.start
        return (
            origin + along * dot(step, along) * shares[0] + across * dot(step, across) * shares[1]
        )

    chain = Chain(tuple(Cubic(*(placed(point) for point in cubic)) for cubic in old.cubics))
    chain = _start_turned(chain, old.start_tangent * at_start.rotation)
    chain = _start_turned(chain.reversed(), -old.end_tangent * last.rotation).reversed()
    return meeting(line.opened(chain), start=start, end=end)


def _ratio(becomes: float, was: float) -> float:
    return becomes / was if abs(was) > SAME_POINT else 1.0


def _start_turned(chain: Chain, heading: complex) -> Chain:
    """Return a line with its start turned to a heading; a straight line is left as it is.

    In a long and shallow line the turn reaches no further than four times the shallow side, lest
    the line dip below its other end; much less would leave a hump where the turn ends. It reaches
    all the way where it would leave a mere sliver, too short to keep a direction.
    """
    if chain.cubics[0].is_straight:
        return chain
    span = chain.end - chain.start
    reach = 4 * min(abs(span.real), abs(span.imag))
    if SAME_POINT < reach < chain.length - SHORTEST_LEFT:
        near, far = chain.split_at(reach)
        return Chain.joining([_start_turned_whole(near, heading), far])
    return _start_turned_whole(chain, heading)


def _start_turned_whole(chain: Chain, heading: complex) -> Chain:
    motion = _motion(chain.start, chain.start_tangent, chain.start, heading)
    return carried(chain, (motion, taper(chain.length))).starting_at(chain.start)


def quarter_curve(start: Point, leaving: complex, end: Point, arriving: complex) -> Chain:
    """Return one fair curve between two points like the quarter of an ellipse.

    Its controls lie 4/3 (√2 - 1) of the way to where the two tangents meet, which is the usual
    cubic for a quarter circle. Tangents that do not meet ahead of both ends give a fair arc.
    """
    chord, turn = end - start, cross(leaving, arriving)
    if abs(turn) > SAME_POINT:
        ahead, behind = cross(chord, arriving) / turn, cross(leaving, chord) / turn
        if ahead > SAME_POINT and behind > SAME_POINT:
            share = 4 / 3 * (2**0.5 - 1)
            return Chain(
                (
                    Cubic(
                        start, start + leaving * ahead * share, end - arriving * behind * share, end
                    ),
                )
            )
    return smooth_join(start, leaving, end, arriving)
