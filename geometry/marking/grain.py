"""A grainline through the middle of a piece."""

import cmath
import math

from shapely.geometry import Point as Spot

from trueup.geometry.lines.points import unit
from trueup.geometry.lines.polygons import polyline
from trueup.geometry.pieces.piece import Grainline, Piece
from trueup.geometry.tolerance import SAME_POINT

_REACH = 1 / 4
"""It reaches so much of its edge to either side of the middle, as far as the cloth goes."""

_OF_CLOTH = 0.9


def grain_along(piece: Piece, edge: str, degrees: float = 0.0) -> Grainline:
    """Return a grainline along the way between the ends of an edge, or at an angle to it.

    Seen along the edge as the outline runs, a positive angle, degrees, turns it into the piece.
    Raises NoSuchName.
    """
    line = piece.edge(edge)
    way = unit(line.end - line.start) * cmath.rect(1.0, math.radians(degrees) * piece.inward.imag)
    inside = piece.cloth.representative_point()
    middle = complex(inside.x, inside.y)
    before, after = (_reach(piece, middle, side * way, line.length * _REACH) for side in (-1, 1))
    return Grainline(middle - way * before, middle + way * after)


def _reach(piece: Piece, middle: complex, way: complex, far: float) -> float:
    """Return how far a line from the middle goes in the cloth, mm, at most `far`."""
    run = polyline((middle, middle + way * far)).intersection(piece.cloth)
    here = Spot(middle.real, middle.imag)
    own = min(getattr(run, "geoms", [run]), key=lambda part: float(part.distance(here)))
    goes = float(own.length)
    return far if goes > far - SAME_POINT else goes * _OF_CLOTH
