"""Lines that bend less than others do, and are as long: how a maker straightens a line by slits."""

import cmath
import math
from collections.abc import Iterator, Sequence

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.fewer import with_fewer_curves
from trueup.geometry.lines.interpolate import smooth_line
from trueup.geometry.lines.points import Point, turn_between
from trueup.geometry.tolerance import CORNER_DEGREES, SAME_POINT

_STEP = 4.0
"""A line is bent in steps of this length at most, mm."""

_CORNER = math.radians(CORNER_DEGREES)


def bent_less(lines: Sequence[tuple[Chain, float]]) -> Chain:
    """Return lines that follow one another, each bending by only a share of what it bends.

    They begin where the first does and as it does, and stay as long as they are; corners, and
    where one meets the next, turn by the same share. A share of 1 leaves a line as it is.

    Source: a plane curve follows from its heading as a function of its length.
    """
    if all(share == 1.0 for _, share in lines):
        return Chain.joining([line for line, _ in lines])
    drawn = [
        smooth_line(points, cmath.rect(1.0, turned[0]), cmath.rect(1.0, turned[-1]))
        for points, turned in _runs(lines)
    ]
    return with_fewer_curves(Chain.joining(drawn))


def end_bent_less(lines: Sequence[tuple[Chain, float]]) -> tuple[Point, complex]:
    """Return where lines end that are bent so, and in which direction, without drawing them."""
    points, turned = _runs(lines)[-1]
    return points[-1], cmath.rect(1.0, turned[-1])


def _runs(lines: Sequence[tuple[Chain, float]]) -> list[tuple[list[Point], list[float]]]:
    """Return the points of each run between corners, and the heading at each point, radians."""
    runs: list[list[Point]] = [[lines[0][0].start]]
    headings = [[cmath.phase(lines[0][0].start_tangent)]]
    arrived = lines[0][0].start_tangent
    for line, share in lines:
        for cubic in line.cubics:
            if cubic.length < SAME_POINT:
                continue
            corner = turn_between(arrived, cubic.tangent(0.0))
            heading = headings[-1][-1] + share * corner
            if abs(corner) > _CORNER:
                runs.append([runs[-1][-1]])
                headings.append([heading])
            for step, turned in _steps(cubic, share, heading):
                runs[-1].append(runs[-1][-1] + step)
                headings[-1].append(turned)
            arrived = cubic.tangent(1.0)
    return [run for run in zip(runs, headings, strict=True) if len(run[0]) > 1]


def _steps(cubic: Cubic, share: float, heading: float) -> Iterator[tuple[complex, float]]:
    """Yield the steps along a curve that sets out so and bends by a share, and each one's heading.

    Each is the velocity of the curve turned back, and summed by Simpson's rule.
    """
    count = math.ceil(cubic.length / _STEP)
    whole = 0.0
    before = cubic.tangent(0.0)
    at_start = cubic.velocity(0.0) * cmath.rect(1.0, heading) / before
    for k in range(count):
        middle, end = ((2 * k + n) / (2 * count) for n in (1, 2))
        velocities = [at_start]
        for t in (middle, end):
            now = cubic.tangent(t)
            whole += turn_between(before, now)
            before = now
            turned = cmath.rect(1.0, heading + share * whole)
            velocities.append(cubic.velocity(t) * turned / now)
        at_start = velocities[2]
        step = (velocities[0] + 4 * velocities[1] + velocities[2]) / (6 * count)
        yield step, heading + share * whole
