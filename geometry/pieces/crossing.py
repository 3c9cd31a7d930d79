"""Where an outline crosses itself, and how much is caught in the loop."""

from dataclasses import dataclass
from itertools import accumulate, pairwise

from shapely import STRtree
from shapely.geometry import LineString, Point

from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import SAME_POINT


@dataclass(frozen=True)
class Crossing:
    """The edges that cross, the earlier in the ring first, and the longest loop cut off, mm."""

    edge: str
    other: str
    loop: float


def crossing(piece: Piece) -> Crossing | None:
    """Return where the outline of a piece, darts cut out, crosses or touches itself, if it does.

    The place is the first in ring order. Where the outline meets itself it falls in two loops;
    the shorter one is what is caught, and the longest of those is given.
    """
    if piece.is_simple:
        return None
    segments, edges = _segments(piece)
    stations = list(accumulate((s.length for s in segments), initial=0.0))
    meetings: list[tuple[int, int, float]] = []
    for one, other in zip(*STRtree(segments).query(segments, predicate="intersects"), strict=True):
        i, j = int(one), int(other)
        if i >= j:
            continue
        shared = segments[i].intersection(segments[j])
        if j - i in (1, len(segments) - 1):
            loop = 2 * float(shared.length)
            if loop < SAME_POINT:
                continue
        else:
            place = Point(shared.coords[0])
            reach = stations[j] + segments[j].project(place)
            between = reach - stations[i] - segments[i].project(place)
            loop = min(between, stations[-1] - between)
        meetings.append((i, j, loop))
    if not meetings:
        return Crossing(piece.edge_names[0], piece.edge_names[0], 0.0)
    first, second, _ = min(meetings)
    return Crossing(edges[first], edges[second], max(loop for _, _, loop in meetings))


def _segments(piece: Piece) -> tuple[list[LineString], list[str]]:
    segments, names = [], []
    for edge in piece.edges:
        for a, b in pairwise(edge.outline.flattened()):
            if a != b:
                segments.append(LineString([(a.real, a.imag), (b.real, b.imag)]))
                names.append(edge.name)
    return segments, names
