"""Where what is notched at the mouth of a dart lies on the cutting line."""

from trueup.geometry.cloth.cutting_line import cutting_edges
from trueup.geometry.lines.points import Point, unit
from trueup.geometry.lines.polygons import polyline
from trueup.geometry.marking.places import frame_of
from trueup.geometry.pieces.marks.mark import AtMouth
from trueup.geometry.pieces.piece import Piece

_FAR = 10.0
"""How far, in allowances, a leg is drawn on at most: beyond, it runs nearly along the edge."""


def mouth_on_cut(piece: Piece, place: AtMouth) -> tuple[Point, Point]:
    """Return where a leg of a dart, drawn on, meets the cutting line, and its end on the seam line.

    Both are the same where nothing is allowed on the edge. Raises NoSuchName.
    """
    seam = frame_of(piece, place).origin
    edge = piece.edge_of_dart(place.dart)
    by = piece.allowance(edge.name)
    if by == 0:
        return seam, seam
    along = unit(seam - piece.mouth(place.dart).tip)
    leg = polyline((seam, seam + along * by * _FAR))
    met = polyline(cutting_edges(piece)[edge.name]).intersection(leg)
    if met.is_empty:
        return seam, seam
    points = [complex(*xy) for part in getattr(met, "geoms", [met]) for xy in part.coords]
    return min(points, key=lambda point: abs(point - seam)), seam
