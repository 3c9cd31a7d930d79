"""Give a dart on an edge another intake, and true the edge across it as it lies closed.

The dart is closed at its new angle: what follows it is turned about the apex. The two runs that
meet there are drawn into one fair line, a straight one where the edge was straight, and the dart is
opened again on that line.
"""

import math
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.fewer import with_fewer_curves
from trueup.geometry.lines.points import Motion, cross, dot, unit
from trueup.geometry.pieces.closed_line import ClosedDart, ClosedLine, closed, end_to_end
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.tolerance import FLATTEN, SAME_POINT

_STEPS = 4
_TRIES = 16
_NEARER = 1e-10

_DEAR = 0.15
"""A line is not moved for its length where 1 mm of moving changes that by less than about this."""

Field = Callable[[float], tuple[complex, complex]]
"""How far a line is moved so many mm along it, and how that changes per mm."""


def with_intake(edge: Edge, dart: str, intake: float) -> Edge | None:
    """Return the edge with a dart's intake (mm at its mouth) made another, trued across it.

    Apex, both ends of the edge and the angles of other darts stay. None where no angle of the dart
    gives this intake. Raises CannotChange when the trued line does not meet a dart.
    """
    line = closed(edge)
    index = next(k for k, each in enumerate(edge.darts) if each.name == dart)
    mouth = edge.mouths[index]
    length = edge.length - (intake - mouth.intake)

    def trued(radians: float) -> Edge:
        turned = _turned(line, index, (radians - abs(mouth.angle)) * math.copysign(1, mouth.angle))
        return turned.opened(_trued(turned, index, length))

    def opening(leg: float) -> float | None:
        return 2 * math.asin(intake / (2 * leg)) if intake < 2 * leg else None

    # The mouth moves along its leg as the line is trued, so the angle is found by secant steps.
    angle = opening(abs(mouth.first - mouth.dart.apex))
    before: tuple[float, float] | None = None
    for _ in range(_TRIES):
        if angle is None or not 0 < angle < math.pi:
            return None
        found = trued(angle)
        reached = found.mouths[index]
        miss = reached.intake - intake
        if abs(miss) < _NEARER:
            return found
        following = opening(abs(reached.first - reached.dart.apex))
        if before and miss != before[1]:
            following = angle - miss * (angle - before[0]) / (miss - before[1])
        before, angle = (angle, miss), following
    return None


def _turned(line: ClosedLine, index: int, radians: float) -> ClosedLine:
    """Return a closed line with what follows one of its darts turned further about its apex."""
    turn = Motion.turn(line.darts[index].apex, radians)
    darts = tuple(
        ClosedDart(each.dart, turn(each.apex), turn(each.meets)) if k > index else each
        for k, each in enumerate(line.darts)
    )
    motions = tuple(
        turn.after(motion) if k > index else motion for k, motion in enumerate(line.motions)
    )
    return replace(line, darts=darts, motions=motions)


def _trued(line: ClosedLine, index: int, length: float) -> Chain:
    """Return the fair line for a closed one whose two runs meet at a dart with a turn or a step."""
    laid = [part.moved(motion) for part, motion in zip(line.edge.parts, line.motions, strict=True)]
    before, after = end_to_end(laid[: index + 1]), end_to_end(laid[index + 1 :])
    if _is_straight(closed(line.edge).chain):
        return Chain.line(before.start, after.end)
    seam = line.darts[index]
    return faired(before, _from_seam(after, seam), length)


def _is_straight(chain: Chain) -> bool:
    along = unit(chain.end - chain.start) if chain.end != chain.start else 1
    return all(
        abs(cross(along, point - chain.start)) < FLATTEN / 2
        for cubic in chain.cubics
        for point in cubic
    )


def _from_seam(after: Chain, seam: ClosedDart) -> Chain:
    """Return what follows a closed dart, cut short where it passes its seam, or drawn on to it."""
    ray = seam.meets - seam.apex
    met = [
        at
        for at in after.crossings(seam.apex, ray)
        if at < after.length - SAME_POINT and dot(after.point_at(at) - seam.apex, ray) > 0
    ]
    if met:
        return after.between(met[0], after.length)
    slant = cross(after.start_tangent, ray)
    if abs(slant) < SAME_POINT:
        return after
    back = cross(after.start - seam.apex, ray) / slant
    if back <= SAME_POINT:
        return after
    drawn_on = Cubic.line(after.start - after.start_tangent * back, after.start)
    return Chain((drawn_on, *after.cubics))


def faired(before: Chain, after: Chain, length: float | None) -> Chain:
    """Return two lines drawn into one where they meet, or should meet, without kink or step.

    Of all ways to move them that bring them near a length (mm, if any), it is the one that bends
    them least, each clamped where the moving starts. That is as far off as there is line, but no
    more than twice as far on one side as on the other, lest the line be bent one way and back.
    """
    a, b = min(before.length, 2 * after.length), min(after.length, 2 * before.length)
    far, near = _parted(before, before.length - a)
    close, beyond = _parted(after, b)
    assert near is not None
    assert close is not None
    more = None if length is None else length - before.length - after.length
    moved, turned = _least_bend(near.reversed(), close, more)
    step, turn = after.start - before.end, after.start_tangent - before.end_tangent
    chains = [
        *([far] if far else []),
        displaced(near.reversed(), _fading(moved, -turned, a)).reversed(),
        displaced(close, _fading(moved - step, turned - turn, b)),
        *([beyond] if beyond else []),
    ]
    return with_fewer_curves(Chain.joining(chains))


def _parted(chain: Chain, length: float) -> tuple[Chain | None, Chain | None]:
    if length < SAME_POINT:
        return None, chain
    if length > chain.length - SAME_POINT:
        return chain, None
    return chain.split_at(length)


def _least_bend(near: Chain, close: Chain, more: float | None) -> tuple[complex, complex]:
    """Return how the meeting of two lines, both running away from it, is moved and turned.

    Each is moved by a cubic that is nought at its far end; the sum of their bending energies is
    least (two linear equations). A bend rounded off so is shorter than its two sides where the line
    is hollow already: it is then moved out, or in, with the least bending, until the two are longer
    by `more` mm; by less where the line is so straight that it would have to move far for that.
    """
    a, b = near.length, close.length
    step, turn = close.start - near.start, close.start_tangent + near.start_tangent
    vv, vg, gg = 24 / a**3 + 24 / b**3, 12 / b**2 - 12 / a**2, 8 / a + 8 / b

    def solved(v: complex, g: complex) -> tuple[complex, complex]:
        scale = vv * gg - vg * vg
        return (v * gg - g * vg) / scale, (g * vv - v * vg) / scale

    moved, turned = solved(24 * step / b**3 + 12 * turn / b**2, 12 * step / b**2 + 8 * turn / b)
    if more is None:
        return moved, turned
    across = unit(close.start_tangent - near.start_tangent) * 1j
    of_move = _gain(near, across, 0j) + _gain(close, across, 0j)
    of_turn = _gain(near, 0j, -across) + _gain(close, 0j, across)
    gained = _gain(near, moved, -turned) + _gain(close, moved - step, turned - turn)
    move, turn_back = (each.real for each in solved(of_move, of_turn))
    worth = of_move * move + of_turn * turn_back
    if worth == 0:
        return moved, turned
    share = (more - gained) * worth / (worth**2 + (_DEAR * move) ** 2)
    return moved + across * move * share, turned + across * turn_back * share


def _gain(chain: Chain, value: complex, slope: complex) -> float:
    """Return by how much a line grows, to first order, when it is moved by a fading field, mm."""
    field = _fading(value, slope, chain.length)
    gained = along = 0.0
    for start, end in pairwise(chain.flattened()):
        way = end - start
        gained += dot(way, field(along + abs(way) / 2)[1])
        along += abs(way)
    return gained


def _fading(value: complex, slope: complex, reach: float) -> Field:
    """Return the cubic that has a value and a slope at the start and neither at its reach."""

    def field(at: float) -> tuple[complex, complex]:
        s = min(at / reach, 1.0)
        left = 1 - s
        share, share_slope = left * left * (1 + 2 * s), -6 * s * left / reach
        turn, turn_slope = at * left * left, left * (1 - 3 * s)
        return value * share + slope * turn, value * share_slope + slope * turn_slope

    return field


def displaced(chain: Chain, field: Field) -> Chain:
    """Return the line with each point moved by a smooth field over its length."""
    cubics: list[Cubic] = []
    station = 0.0
    for cubic, far in chain.cubics_to([chain.length * k / _STEPS for k in range(1, _STEPS)]):
        (start, start_slope), (end, end_slope) = field(station), field(far)
        arm, end_arm = cubic.start_control - cubic.start, cubic.end - cubic.end_control
        first = cubics[-1].end if cubics else cubic.start + start
        last = cubic.end + end
        cubics.append(
            Cubic(
                first,
                first + arm + start_slope * abs(arm),
                last - end_arm - end_slope * abs(end_arm),
                last,
            )
        )
        station = far
    return Chain(tuple(cubics))
