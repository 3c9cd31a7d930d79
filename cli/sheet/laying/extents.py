"""How far a piece reaches, and shapes moved as pieces are. Lengths in mm."""

import numpy as np
import shapely
from shapely.affinity import affine_transform

from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.lines.points import Motion, Point
from trueup.geometry.pieces.piece import Piece


def extent(piece: Piece) -> list[Point]:
    """Return the points between which everything that belongs to a piece lies."""
    points = [complex(x, y) for x, y in cutting_line(piece).exterior.coords]
    points += piece.outline_points
    for dart in piece.inner_darts:
        points += [dart.upper, dart.lower, dart.left, dart.right]
    if piece.grainline:
        points += [piece.grainline.start, piece.grainline.end]
    return points


def moved(shape: shapely.Geometry, motion: Motion) -> shapely.Geometry:
    """Return a shape after a rigid motion."""
    if shape.is_empty:
        return shape
    turn, shift = motion.rotation, motion.shift
    if turn == 1:
        by = np.array((shift.real, shift.imag))
        return shapely.transform(shape, lambda points: points + by)
    matrix = (turn.real, -turn.imag, turn.imag, turn.real, shift.real, shift.imag)
    return affine_transform(shape, matrix)
