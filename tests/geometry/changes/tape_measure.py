"""A tape and a planimeter of the tests' own: lengths, angles and areas from sampled points alone.

It calls nothing of the geometry that measures; it reads control points and apexes only.
"""

import numpy as np
from shapely.geometry import Polygon

from tests.fair import sampled
from trueup.geometry.pieces.dart import Mouth
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece


def sewn_length(edge: Edge) -> float:
    """Return the length of an edge, darts skipped, mm; short by less than a hundredth of one."""
    return float(sum(np.abs(np.diff(sampled(part))).sum() for part in edge.parts))


def angle(mouth: Mouth) -> float:
    """Return the angle of a dart at its apex, radians."""
    apex = mouth.dart.apex
    return float(abs(np.angle((mouth.first - apex) / (mouth.second - apex))))


def angles(piece: Piece) -> dict[str, float]:
    """Return the angles of all darts that open on an edge of a piece, by name."""
    return {mouth.dart.name: angle(mouth) for edge in piece.edges for mouth in edge.mouths}


def cloth_area(piece: Piece) -> float:
    """Return the area of a piece, darts cut out up to their apexes, mm²."""
    points = []
    for edge in piece.edges:
        for k, part in enumerate(edge.parts):
            points += [*sampled(part)[:-1]]
            if k < len(edge.darts):
                points += [part.end, edge.darts[k].apex]
    # Shoelaces: darts that end at one apex touch there, which no valid polygon does.
    xy = np.array(points)
    area = abs(float((xy.conj() * np.roll(xy, -1)).imag.sum())) / 2
    return area - sum(Polygon(_corners(dart)).area for dart in piece.inner_darts)


def _corners(dart: object) -> list[tuple[float, float]]:
    corners = (getattr(dart, name) for name in ("upper", "right", "lower", "left"))
    return [(corner.real, corner.imag) for corner in corners]


def assert_same_lengths(before: Draft, after: Draft, *but: str, within: float = 0.02) -> None:
    """Check that every edge is as long as it was, except those named `piece.edge`."""
    for piece in before.pieces:
        for edge in piece.edges:
            if f"{piece.name}.{edge.name}" not in but:
                now = sewn_length(after.edge(piece.name, edge.name))
                assert abs(now - sewn_length(edge)) < within, f"{piece.name}.{edge.name}"
