"""Where a line of a drawing turns, and the fair curves between: points of a curve become cubics.

A line drawn from point to point may be a curve that was cut fine, or may be meant to have corners.
It is a curve where it turns by little from point to point, and by about as much at the next.
"""

import cmath
from collections.abc import Iterator, Sequence
from itertools import pairwise

from shapely.geometry import LineString

from trueup.geometry.errors import BrokenOutline
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.fewer import with_fewer_curves
from trueup.geometry.lines.interpolate import smooth_line
from trueup.geometry.lines.points import Point, coordinates, degrees_between, turn_between, unit
from trueup.geometry.tolerance import CORNER_DEGREES, DRAWN_TOGETHER
from trueup.lineage.drawings.shapes.near import Near

MOST_BETWEEN_POINTS = 30.0
"""Degrees; a curve given by its points turns by no more from one to the next."""

_ALIKE = 2.6
_LONGEST_CHORD = 45.0
_LONG = 3.0
_BESIDE = 0.03
_FEWER, _PASSES = 0.015, 3
_STRETCH, _MOST_AT_ONCE = 24, 150
_TOLD_NEAR = 0.05
_SHARP = 45.0


def sides_between_corners(
    chain: Chain, told: Sequence[Point] = (), joined: Sequence[Point] = ()
) -> list[Chain]:
    """Return a closed line parted at its corners, each part drawn fair, the first corner first.

    `told` are all corners there are, where the source says so, and points between them then lie on
    the curve; `joined` are points that are corners in any case.
    """
    cubics = chain.cubics
    turns = [_degrees(cubics[index - 1], cubics[index]) for index in range(len(cubics))]
    firsts = []
    ends, stated = Near(joined, DRAWN_TOGETHER), Near(told, _TOLD_NEAR)
    for index, cubic in enumerate(cubics):
        corner = _is_corner(cubics, turns, index)
        if told:
            corner = stated.has(cubic.start) or turns[index] > _SHARP
        if corner or ends.has(cubic.start):
            firsts.append(index)
    if not firsts:
        return [fair(chain, through=bool(told))]
    turned = [*cubics[firsts[0] :], *cubics[: firsts[0]]]
    starts = [index - firsts[0] for index in firsts] + [len(cubics)]
    return [
        fair(Chain(tuple(turned[low:high])), through=bool(told)) for low, high in pairwise(starts)
    ]


def fair(chain: Chain, *, through: bool = False) -> Chain:
    """Return a line without corners, its straight steps drawn as the curve that they stand for.

    It runs `through` its points, or stays with the line from point to point to a few hundredths
    of a mm; where it cannot, the line stays as it was drawn.
    """
    parts: list[Chain] = []
    run: list[Cubic] = []
    for cubic in (*chain.cubics, None):
        if cubic is not None and cubic.is_straight:
            run.append(cubic)
            continue
        if run:
            parts += _curve(run, through=through)
            run = []
        if cubic is not None:
            parts.append(Chain((cubic,)))
    try:
        return _with_fewer(Chain.joining(parts))
    except BrokenOutline:
        return chain


def _with_fewer(chain: Chain) -> Chain:
    """Return a line with fewer curves, taken a stretch at a time so that no line takes long."""
    count = 0
    while len(chain.cubics) != count:
        count = len(chain.cubics)
        stretches = range(0, count, _STRETCH)
        chain = Chain.joining(
            [
                with_fewer_curves(Chain(chain.cubics[k : k + _STRETCH]), _FEWER / _PASSES)
                for k in stretches
            ]
        )
    return chain


def _curve(run: list[Cubic], *, through: bool) -> list[Chain]:
    """Return straight steps as curves, long straight stretches among them kept straight."""
    lengths = [abs(cubic.end - cubic.start) for cubic in run]
    pieces: list[Chain] = []
    steps: list[Cubic] = []
    for index, cubic in enumerate(run):
        beside = [lengths[k] for k in (index - 1, index + 1) if 0 <= k < len(run)]
        is_long = lengths[index] > _LONG * max(beside, default=0.0)
        if is_long or (lengths[index] > _LONGEST_CHORD and not through):
            if steps:
                pieces.append(_through(steps, through=through, before=pieces, after=cubic))
                steps = []
            pieces.append(Chain((cubic,)))
        else:
            steps.append(cubic)
    if steps:
        pieces.append(_through(steps, through=through, before=pieces, after=None))
    return pieces


def _through(
    steps: list[Cubic], *, through: bool, before: list[Chain], after: Cubic | None
) -> Chain:
    """Return the curve through the ends of straight steps, smooth with what stands beside it."""
    drawn = Chain(tuple(steps))
    points = [steps[0].start, *(cubic.end for cubic in steps)]
    if len(points) < 4 or all(
        degrees_between(a.tangent(0), b.tangent(0)) < 1e-3 for a, b in pairwise(steps)
    ):
        return drawn
    leaving = _setting_out(points[:3])
    arriving = -_setting_out(points[:-4:-1])
    if before and before[-1].cubics[-1].is_straight:
        leaving = _smooth_with(before[-1].end_tangent, leaving)
    if after is not None:
        arriving = _smooth_with(after.tangent(0), arriving)
    try:
        curve = _smooth(points, leaving, arriving)
    except BrokenOutline:
        return drawn
    if through:
        return curve
    return curve if all(away <= _BESIDE for away in _strays(curve, points)) else drawn


def _strays(curve: Chain, points: Sequence[Point]) -> Iterator[float]:
    """Yield how far a curve strays from the line from point to point, a stretch at a time, mm.

    Each is held against its own points only: against all of them a long line would take for ever.
    """
    for low in range(0, len(curve.cubics), _STRETCH):
        flat = Chain(curve.cubics[low : low + _STRETCH]).flattened(0.002)
        there = LineString(coordinates(points[low : low + _STRETCH + 1]))
        yield LineString(coordinates(flat)).hausdorff_distance(there)


def _smooth(points: Sequence[Point], leaving: complex, arriving: complex) -> Chain:
    """Return the smooth line through points, so many of them at a time."""
    parts = []
    stations = [*range(0, len(points) - 3, _MOST_AT_ONCE), len(points) - 1]
    for low, high in pairwise(stations):
        last = high == len(points) - 1
        arrives = arriving if last else _passing(points[high - 1 : high + 2])
        parts.append(smooth_line(points[low : high + 1], leaving, arrives))
        leaving = arrives
    return Chain.joining(parts)


def _passing(points: Sequence[Point]) -> complex:
    """Return the direction at the middle one of three points of the circle through them."""
    chord, following = points[1] - points[0], points[2] - points[1]
    share = abs(chord) / (abs(chord) + abs(following))
    return unit(chord) * cmath.rect(1.0, turn_between(chord, following) * share)


def _smooth_with(straight: complex, seen: complex) -> complex:
    """Return the direction of the line beside, where the curve seems to run on from it."""
    return straight if degrees_between(straight, seen) < CORNER_DEGREES / 2 else seen


def _setting_out(points: Sequence[Point]) -> complex:
    """Return the direction at the first of three points of the circle through them."""
    first, second, third = points
    chord = second - first
    turn = turn_between(chord, third - second)
    share = abs(chord) / max(abs(chord) + abs(third - second), 1e-9)
    return unit(chord) * cmath.rect(1.0, -turn * share) if abs(turn) < 1 else unit(chord)


def _degrees(before: Cubic, after: Cubic) -> float:
    return degrees_between(before.tangent(1.0), after.tangent(0.0))


def _is_corner(cubics: Sequence[Cubic], turns: Sequence[float], index: int) -> bool:
    """Return whether a closed line has a corner where one of its curves begins."""
    turn = turns[index]
    if turn <= CORNER_DEGREES / 3:
        return False
    before, after = cubics[index - 1], cubics[index]
    if not (before.is_straight and after.is_straight):
        return turn > CORNER_DEGREES
    way = turn_between(before.tangent(1.0), after.tangent(0.0))
    beside = (index - 1, (index + 1) % len(cubics))
    alike = [
        _way(cubics, k) * way > 0 and turns[k] * _ALIKE >= turn and turns[k] <= MOST_BETWEEN_POINTS
        for k in beside
    ]
    longest = max(abs(before.end - before.start), abs(after.end - after.start))
    if turn <= MOST_BETWEEN_POINTS and all(alike) and longest <= _LONGEST_CHORD:
        return False
    # At the end of a curve its last turn has a like one on one side only.
    return not (turn <= CORNER_DEGREES)


def _way(cubics: Sequence[Cubic], index: int) -> float:
    return turn_between(cubics[index - 1].tangent(1.0), cubics[index].tangent(0.0))
