"""The neck of a drafted bodice. Lengths in mm."""

import math

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Point, cross

FRONT_NECK_CORNER = math.radians(78)
"""Inner angle of neck and shoulder in front; the back takes the rest of 180 (common practice)."""


def neck_curve(
    start: Point, leaving: complex, end: Point, arriving: complex, near: float, far: float
) -> Chain:
    """Return one hollow from the centre to the neck point, its controls on its tangents.

    `near` and `far` say how much of the way to where the tangents meet each control lies.
    """
    top = start + leaving * (cross(end - start, arriving) / cross(leaving, arriving))
    return Chain((Cubic(start, start + near * (top - start), end + far * (top - end), end),))
