"""Hems as they are turned up: which edges are, and where the cut edge then comes to lie, in mm."""

from collections.abc import Mapping

import shapely
from shapely.geometry import LineString

from trueup.geometry.cloth.cutting_line import cutting_edges, cutting_line
from trueup.geometry.lines.points import Point, coordinates
from trueup.geometry.lines.polygons import polyline
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece

_TURNED = frozenset(("hem", "wrist", "mouth"))
"""What the name of an edge ends with that is turned up by its own allowance where nothing is sewn
to it: the lower edges, and the mouth of a patch pocket (common practice, no source)."""

_INSIDE = 0.2
"""What lies nearer to the cutting line than this, mm, lies on it."""


def hems_of(draft: Draft) -> Mapping[str, tuple[str, ...]]:
    """Return by piece the edges that are turned up: those with an allowance and no seam."""
    sewn = {(run.piece, run.edge) for seam in draft.seams for run in seam.runs}
    return {
        piece.name: tuple(
            name
            for name in piece.edge_names
            if (piece.name, name) not in sewn
            and piece.allowance(name) > 0
            and name.rpartition("-")[2] in _TURNED
        )
        for piece in draft.pieces
    }


def turned(piece: Piece, hem: str) -> tuple[tuple[Point, ...], ...]:
    """Return where the cut edge below a hem lies once that is turned up, as runs inside the cut.

    Each point lies as far inside the hem, square to it, as it was cut outside. Nothing where a dart
    opens on the hem, for it is turned with the dart sewn. Raises NoSuchName.
    """
    edge = piece.edge(hem)
    allowance = piece.allowance(hem)
    if edge.darts or allowance == 0:
        return ()
    line = _drawn_on(edge, 3 * allowance)
    cut = shapely.points(coordinates(cutting_edges(piece)[hem]))
    feet = shapely.line_interpolate_point(line, shapely.line_locate_point(line, cut))
    mirrored = 2 * shapely.get_coordinates(feet) - shapely.get_coordinates(cut)
    inside = cutting_line(piece).buffer(-_INSIDE)
    parts = shapely.get_parts(shapely.LineString(mirrored).intersection(inside))
    return tuple(
        tuple(complex(x, y) for x, y in part.coords)
        for part in parts
        if isinstance(part, LineString) and part.length > _INSIDE
    )


def _drawn_on(edge: Edge, by: float) -> LineString:
    """Return an edge drawn on straight at both ends."""
    part = edge.parts[0]
    first, last = part.start - part.start_tangent * by, part.end + part.end_tangent * by
    return polyline([first, *part.flattened(), last])
