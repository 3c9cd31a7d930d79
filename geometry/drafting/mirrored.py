"""A drafted piece laid the other way round."""

from dataclasses import replace

from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Piece


def mirrored(piece: Piece, width: float) -> Piece:
    """Return a piece without inner darts laid the other way round, what lay at 0 at `width` mm."""

    def turned(point: Point) -> Point:
        return complex(width - point.real, point.imag)

    edges = tuple(
        Edge(
            edge.name,
            edge.starts_at,
            edge.ends_at,
            tuple(part.mapped(turned) for part in edge.parts),
            tuple(Dart(dart.name, turned(dart.apex), dart.setback) for dart in edge.darts),
        )
        for edge in piece.edges
    )
    grain = piece.grainline
    laid = Grainline(turned(grain.start), turned(grain.end)) if grain else None
    return replace(piece, edges=edges, grainline=laid)
