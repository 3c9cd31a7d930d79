"""Two arcs that meet smoothly: the calmest line between two points with given directions."""

import math

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_join
from trueup.geometry.lines.points import Point, dot, unit


def two_arcs(start: Point, leaving: complex, end: Point, arriving: complex) -> Chain:
    """Return two arcs from one point to another, each as good as a circle's, with given directions.

    Their tangents are equally long at both ends, so that a line that swings to and fro bends as
    gently as it can. Raises BrokenOutline when the two points are one.

    Source: the biarc of equal tangent lengths, as in textbooks on geometric design.

    >>> swing = two_arcs(0j, 1, 100 + 20j, 1)
    >>> round(swing.length, 1), round(abs(swing.cubics[0].end - (50 + 10j)), 6)
    (102.6, 0.0)
    """
    way, out, into = end - start, unit(leaving), unit(arriving)
    along, apart = dot(way, out + into), 2 * (1 - dot(out, into))
    reached = abs(way) ** 2
    # The length d of the tangents solves apart d² + 2 along d = reached.
    d = reached / (along + math.sqrt(along**2 + apart * reached))
    first, second = start + out * d, end - into * d
    middle, between = (first + second) / 2, unit(second - first)
    return Chain.joining(
        [smooth_join(start, out, middle, between), smooth_join(middle, between, end, into)]
    )
