"""Draw a line anew whose stretches were moved apart, so that it stays fair and keeps its shape."""

from collections.abc import Sequence
from itertools import pairwise

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import spline_field
from trueup.geometry.lines.points import Motion
from trueup.geometry.redrawing.trued_dart import Field, displaced


def spread_line(line: Chain, stations: Sequence[float], motions: Sequence[Motion]) -> Chain:
    """Return a line parted at some lengths, its stretches moved, and drawn as one fair line again.

    There is one motion more than there are `stations`, mm.
    """
    fine = line.cut_at([*_knots(line, stations), *stations])
    return displaced(fine, spread_field(line, stations, motions))


def spread_field(line: Chain, stations: Sequence[float], motions: Sequence[Motion]) -> Field:
    """Return how far a line parted so is moved at each length, mm, and how that changes.

    The middle of each stretch moves along with it, and so does either end of the line, with its
    direction. How far it moves between those is a cubic spline over its length, so that it keeps
    the shape it had.
    """
    knots = _knots(line, stations)
    of_stretches = [motions[0], *motions, motions[-1]]
    moved = [
        motion(point) - point
        for motion, point in zip(of_stretches, map(line.point_at, knots), strict=True)
    ]
    ends = (
        (motion.rotation - 1) * tangent
        for motion, tangent in (
            (motions[0], line.start_tangent),
            (motions[-1], line.end_tangent),
        )
    )
    return spline_field(knots, moved, *ends)


def _knots(line: Chain, stations: Sequence[float]) -> list[float]:
    """Return the ends of a line and the middles of its stretches, from its start, mm."""
    places = [0.0, *stations, line.length]
    return [0.0, *((low + high) / 2 for low, high in pairwise(places)), line.length]
