"""Whether a draft is true, measured from its control points alone, without the code under test."""

import cmath
import math
from itertools import pairwise

from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece


def angle_between(a: complex, b: complex) -> float:
    return abs(math.degrees(cmath.phase(b / a)))


def corner_angle(piece: Piece, corner: str) -> float:
    """Return the inner angle at a convex corner, degrees."""
    arriving = next(edge for edge in piece.edges if edge.ends_at == corner).parts[-1].cubics[-1]
    leaving = next(edge for edge in piece.edges if edge.starts_at == corner).parts[0].cubics[0]
    return angle_between(arriving.end_control - arriving.end, leaving.start_control - leaving.start)


def join_angles(draft: Draft) -> dict[str, float]:
    """Return, for each join, the sum of the two corner angles that meet there, degrees."""
    return {
        join.name: sum(
            corner_angle(draft.piece(piece), corner)
            for piece, _, corner in (join.first, join.second)
        )
        for join in draft.joins
    }


def leg_differences(draft: Draft) -> dict[str, float]:
    """Return how far the two legs of each dart differ, mm."""
    found = {}
    for piece in draft.pieces:
        for edge in piece.edges:
            for dart, (before, after) in zip(edge.darts, pairwise(edge.parts), strict=True):
                legs = abs(before.end - dart.apex), abs(after.start - dart.apex)
                found[f"{piece.name}.{dart.name}"] = abs(legs[0] - legs[1])
    return found


def dart_mouth_angles(draft: Draft) -> dict[str, float]:
    """Return the sum of the angles of edge and leg at both mouth points: 180 when closed true."""
    found = {}
    for piece in draft.pieces:
        for edge in piece.edges:
            for dart, (before, after) in zip(edge.darts, pairwise(edge.parts), strict=True):
                arriving, leaving = before.cubics[-1], after.cubics[0]
                found[f"{piece.name}.{dart.name}"] = angle_between(
                    arriving.end_control - arriving.end, dart.apex - arriving.end
                ) + angle_between(leaving.start_control - leaving.start, dart.apex - leaving.start)
    return found


def kinks(draft: Draft) -> dict[str, float]:
    """Return the largest turn, degrees, where two curves of one part of an edge meet."""
    found = {}
    for piece in draft.pieces:
        for edge in piece.edges:
            turns = [
                angle_between(a.end - a.end_control, b.start_control - b.start)
                for part in edge.parts
                for a, b in pairwise(part.cubics)
            ]
            found[f"{piece.name}.{edge.name}"] = max(turns, default=0.0)
    return found


def seam_differences(draft: Draft) -> dict[str, float]:
    """Return how much longer the first side of each seam is than the other, mm, by polylines."""
    return {
        seam.name: sum(polyline_length(draft, run.piece, run.edge) for run in seam.side)
        - sum(polyline_length(draft, run.piece, run.edge) for run in seam.mate)
        for seam in draft.seams
    }


def polyline_length(draft: Draft, piece: str, edge: str, steps: int = 200) -> float:
    """Return the sewn length of an edge by adding up short chords, mm."""
    total = 0.0
    for part in draft.edge(piece, edge).parts:
        for cubic in part.cubics:
            points = [_de_casteljau(tuple(cubic), k / steps) for k in range(steps + 1)]
            total += sum(abs(b - a) for a, b in pairwise(points))
    return total


def _de_casteljau(points: tuple[complex, ...], t: float) -> complex:
    while len(points) > 1:
        points = tuple(a + t * (b - a) for a, b in pairwise(points))
    return points[0]


def assert_true(draft: Draft) -> None:
    """Assert that everything a patternmaker checks on a finished draft holds, and exactly."""
    assert max(leg_differences(draft).values()) < 1e-6
    assert all(abs(angle - 180) < 1e-3 for angle in dart_mouth_angles(draft).values())
    assert all(abs(angle - 180) < 1e-3 for angle in join_angles(draft).values())
    assert max(kinks(draft).values()) < 1e-3
    for seam in draft.seams:
        difference = seam_differences(draft)[seam.name]
        assert seam.allowed.low - 1e-3 <= difference <= seam.allowed.high + 1e-3, seam.name
    assert all(piece.is_simple for piece in draft.pieces)
