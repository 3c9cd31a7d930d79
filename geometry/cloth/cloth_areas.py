"""Where on cloth that is cut an alteration takes place: what lacks, what is cut off, as areas.

All lies in the frame of the piece that was cut. Lengths in mm.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from shapely.affinity import affine_transform
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from trueup.geometry.cloth.areas_moved import PointLine
from trueup.geometry.cloth.cut_cloth import LEAST, NOTHING, ClothAnswer, Possible, Reason
from trueup.geometry.cloth.cutting_line import cutting_edges, cutting_line
from trueup.geometry.cloth.laid_edge import LaidEdge, laid_edge, lying_cloth, need_of
from trueup.geometry.comparing.laying import grain, laying, moved
from trueup.geometry.lines.points import Motion, Point, coordinates
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import FLATTEN, OUTLINE_GRID, UNCHANGED


@dataclass(frozen=True)
class ClothAreas:
    """One piece of an altered garment on its cloth.

    `lying` is the corrected piece as it is laid on the cloth. `lacking` lies outside the cloth,
    as far as it would have to reach; `cut_off` inside, beyond the new cutting line of the edges
    that are re-cut. `places` is for each edge a point of its corrected seam line: where it lacks
    most cloth, or else moved most.
    """

    lying: Piece
    lacking: BaseGeometry
    cut_off: BaseGeometry
    places: Mapping[str, Point]


def cloth_areas(
    cloth: Polygon,
    old: Piece,
    new: Piece,
    answer: ClothAnswer,
    least: float = LEAST,
    lacked: Mapping[str, float] = NOTHING,
) -> ClothAreas:
    """Return where the answer for a piece lies on its cloth.

    `cloth`, `old`, `new`, `least` and `lacked` are those it was found for by `compare_cloth`.
    """
    lying = moved(new, _lying(old, new, answer))
    unfolded = lying_cloth(cloth, old, new)
    edges: dict[str, LaidEdge] = {}
    for edge in lying.edges:
        need = need_of(unfolded, old, edge, least, lacked.get(edge.name, 0.0))
        edges[edge.name] = laid_edge(unfolded, old, edge, PointLine.along(edge), lying.inward, need)
    short = [edges[edge.edge] for edge in answer.edges if edge.reason is Reason.CLOTH]
    lacking = shapely.union_all([_lacking(edge) for edge in short]).difference(unfolded.lying)
    places = {name: edge.place for name, edge in edges.items()}
    return ClothAreas(lying, lacking, _cut_off(cloth, old, lying, answer), places)


def altered_cloth(
    cloth: Polygon,
    old: Piece,
    new: Piece,
    answer: ClothAnswer,
    least: float = LEAST,
    lacked: Mapping[str, float] = NOTHING,
) -> Polygon:
    """Return the cloth of a piece that is altered as its answer says, in the frame of `new`, mm.

    What is taken in is cut back to the new cutting line; nothing is added anywhere.
    """
    left = cloth.difference(cloth_areas(cloth, old, new, answer, least, lacked).cut_off)
    back = _lying(old, new, answer).inverse()
    turn, shift = back.rotation, back.shift
    # Points are turned and shifted in the plane: x, y -> ax + by + c, dx + ey + f.
    matrix = (turn.real, -turn.imag, turn.imag, turn.real, shift.real, shift.imag)
    # On a grid the outline stays one closed line that nowhere crosses itself when it is drawn.
    lying = shapely.set_precision(affine_transform(left, matrix), OUTLINE_GRID)
    largest = max(shapely.get_parts(lying), key=shapely.area)
    return Polygon(largest.exterior)


def _lying(old: Piece, new: Piece, answer: ClothAnswer) -> Motion:
    """Return the motion by which a new piece is laid on its cloth."""
    return Motion(shift=grain(old) * answer.slide).after(laying(new, old))


def _lacking(edge: LaidEdge) -> BaseGeometry:
    """Return what an edge needs around it where cloth lacks, whether cloth is there or not."""
    at = edge.lacking > UNCHANGED
    # The cut is as far off as the cloth is deep, so this reaches beyond it by what lacks.
    reach = np.maximum(edge.depths[at] + edge.lacking[at], 0.0)
    points = edge.line.points[at]
    return shapely.union_all(shapely.buffer(shapely.points(points.real, points.imag), reach))


def _cut_off(cloth: Polygon, old: Piece, lying: Piece, answer: ClothAnswer) -> BaseGeometry:
    """Return the cloth beyond the new cutting line of the edges that move and can."""
    before, after = cutting_edges(old), cutting_edges(lying)
    swept = [
        _between(before[edge.edge], after[edge.edge])
        for edge in answer.edges
        if edge.taken_in and edge.possible is not Possible.CANNOT and edge.edge in before
    ]
    beyond = cloth.difference(cutting_line(lying)).intersection(shapely.union_all(swept))
    # What is narrower than a line can be drawn is not cut off.
    return beyond.buffer(-FLATTEN, join_style="mitre").buffer(FLATTEN, join_style="mitre")


def _between(one: tuple[Point, ...], other: tuple[Point, ...]) -> BaseGeometry:
    """Return the area between two lines that run the same way."""
    ring = pairwise([*one, *other[::-1], one[0]])
    crossed = shapely.union_all([LineString(coordinates(run)) for run in ring if run[0] != run[1]])
    return shapely.union_all(shapely.get_parts(shapely.polygonize(shapely.get_parts(crossed))))
