"""The back shoulder of a drafted bodice, with its dart. Lengths in mm."""

import cmath
import math

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.edge import Edge


def back_shoulder(neck: Point, end: Point, apex: Point, first: Point, length: float) -> Edge:
    """Return the shoulder with its dart: straight, and `length` mm long, once closed.

    Books mark the dart off on the open line, which leaves its legs unequal. Here the shoulder end
    is turned about the tip until the closed seam has the front's length; neck point and shoulder
    point stay where the book has them. The first leg runs through the point `first`.
    """
    closing = _turn_to_distance(end, apex, neck, length)
    mouth = _crossing(apex, first - apex, neck, closing(end) - neck)
    beyond = closing.inverse()(mouth)
    return Edge(
        "shoulder",
        "neck-point",
        "shoulder-point",
        (Chain.line(neck, mouth), Chain.line(beyond, end)),
        (Dart("shoulder", apex),),
    )


def _turn_to_distance(point: Point, about: Point, other: Point, distance: float) -> Motion:
    """Return the turn that closes the dart: it brings a point to a distance from another.

    By the law of cosines; the sense is that of the back, whose shoulder turns up to the neck.
    """
    arm, reach = abs(point - about), abs(other - about)
    wanted = math.acos((arm**2 + reach**2 - distance**2) / (2 * arm * reach))
    present = cmath.phase((point - about) / (other - about))
    return Motion.turn(about, wanted - present)


def _crossing(origin: Point, direction: complex, start: Point, along: complex) -> Point:
    """Return where the line from an origin in a direction crosses another line."""
    turned = (start - origin) / direction
    slope = along / direction
    return start - along * (turned.imag / slope.imag)
