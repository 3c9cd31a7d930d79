"""The cutting line of a piece: each edge laid outwards by its own allowance.

At a corner the two lines are drawn on until they meet; where they would meet far out they are cut
square across. What is said of a corner is done instead (`cut_corners.py`). Nothing is added on a
fold. Darts are not cut out: the line runs over their mouths as it does when the edge is cut with
the dart folded, and the allowance is laid on the edge as it is sewn, its darts closed.
"""

from collections.abc import Mapping
from functools import lru_cache
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry import LineString, MultiLineString, Polygon
from shapely.geometry import Point as Place
from shapely.ops import substring, unary_union

from trueup.geometry.cloth.cut_corners import cut_as_said
from trueup.geometry.cloth.dart_peak import bridged, led_over
from trueup.geometry.lines.points import Point, dot, unit
from trueup.geometry.lines.polygons import polygon, polyline
from trueup.geometry.pieces.closed_line import ClosedLine, closed
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.cut_corner import CutCorner
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import FLATTEN, SAME_POINT

MITRE = 3.0
"""A corner may run out to this many times the larger allowance; beyond, it is cut square."""

_FURTHER = 0.1
"""How far a line that ends early is led on before it is drawn on, mm."""


@lru_cache(maxsize=1024)
def cutting_line(piece: Piece) -> Polygon:
    """Return the outline to cut, mm, as a polygon; it holds the whole seam outline."""
    cut = polygon(point for line in cutting_edges(piece).values() for point in line)
    if not piece.corners and not any(mm for _, mm in piece.allowances) and cut.is_valid:
        return _united(cut)
    seams = polygon(point for edge in piece.edges for point in bridged(piece, edge))
    whole = unary_union([_mended(cut), _mended(seams)])
    largest = max(getattr(whole, "geoms", [whole]), key=lambda part: float(part.area))
    return Polygon(largest.exterior)


def cutting_edges(piece: Piece) -> Mapping[str, tuple[Point, ...]]:
    """Return for each edge, in ring order, its polyline of the cutting line, corners included."""
    return _cut(piece)[0]


def corners_cut_otherwise(piece: Piece) -> tuple[CutCorner, ...]:
    """Return what is said of corners of a piece that cannot be cut so, and are cut as any other."""
    return _cut(piece)[1] if piece.corners else ()


@lru_cache(maxsize=1024)
def _cut(piece: Piece) -> tuple[Mapping[str, tuple[Point, ...]], tuple[CutCorner, ...]]:
    """Return the cutting line edge by edge, and what is said of corners and cannot be done."""
    otherwise: list[CutCorner] = []
    names = piece.edge_names
    lines = {edge.name: _aimed(piece, edge, _laid_out(piece, edge.name)) for edge in piece.edges}
    said_of = {each.corner: each for each in piece.corners}
    for before, after in pairwise((*names, names[0])):
        how = said_of.get(piece.edge(after).starts_at) if said_of else None
        cut = cut_as_said(piece, how, lines[before], lines[after]) if how else None
        if cut is not None:
            lines[before], lines[after] = cut
            continue
        if how:
            otherwise.append(how)
        reach = MITRE * max(piece.allowance(before), piece.allowance(after))
        lines[before], lines[after] = _cornered(lines[before], lines[after], reach)
    return {name: tuple(line) for name, line in lines.items()}, tuple(otherwise)


def _laid_out(piece: Piece, name: str) -> list[Point]:
    """Return an edge, darts bridged, moved outwards by its allowance; its ends not yet drawn on."""
    edge, by = piece.edge(name), piece.allowance(name)
    # Shapely lays a line out by a positive distance to the side of a quarter turn by +i.
    out = by if piece.inward.imag < 0 else -by
    if by == 0:
        return bridged(piece, edge)
    line = closed(edge)
    laid = _offset(line.chain.flattened(), out)
    # What is folded in beside a corner is cut by its line drawn on.
    reach = MITRE * by
    before, after = laid[0] + _heading(laid[::-1]) * reach, laid[-1] + _heading(laid) * reach
    runs = _opened(line, [before, *laid, after])
    return led_over(piece, edge, runs)[1:-1] if runs else _offset(bridged(piece, edge), out)


def _aimed(piece: Piece, edge: Edge, laid: list[Point]) -> list[Point]:
    """Return a line laid beside an edge, with ends that are drawn on as the edge runs there.

    Beside a hollow that bends more tightly than the allowance is wide the line ends before it comes
    beside the end of the edge, and has turned by then.
    """
    by = piece.allowance(edge.name)
    if by == 0:
        return laid
    first, last = edge.parts[0].flattened()[:2], edge.parts[-1].flattened()[-2:]
    for end, (before, at) in ((0, first[::-1]), (-1, last)):
        way = unit(at - before)
        outwards = way * piece.inward * (1 if end == 0 else -1)
        beside = at + outwards * by
        if abs(laid[end] - beside) > FLATTEN:
            on_it = beside + way * dot(laid[end] - beside, way)
            further = [on_it, on_it + way * _FURTHER]
            laid = [*further[::-1], *laid] if end == 0 else [*laid, *further]
    return laid


def _offset(points: list[Point], by: float) -> list[Point]:
    # A point in the midst of a straight stretch can cost shapely all that lies before it.
    line = polyline(points).simplify(SAME_POINT)
    laid = line.offset_curve(by, join_style="mitre", mitre_limit=MITRE)
    if isinstance(laid, MultiLineString):
        laid = max(laid.geoms, key=lambda part: part.length)
    return [complex(x, y) for x, y in laid.coords] or points


def _opened(line: ClosedLine, laid: list[Point]) -> list[list[Point]]:
    """Return a line laid beside a closed edge as one run beside each part, ending on the legs.

    A dart is sewn through the allowance: its legs are drawn on to the line. Nothing where they do
    not meet it one after the other.
    """
    along = polyline(laid)
    stations = [0.0]
    for dart in line.darts:
        far = dart.meets + unit(dart.meets - dart.apex) * along.length
        met = _met(along, polyline([dart.meets, far]), dart.meets)
        stations.append(along.project(met) if met else 0.0)
    stations.append(along.length)
    if any(after - before < SAME_POINT for before, after in pairwise(stations)):
        return []
    return [
        [motion.inverse()(complex(x, y)) for x, y in substring(along, low, high).coords]
        for motion, (low, high) in zip(line.motions, pairwise(stations), strict=True)
    ]


def _cornered(
    before: list[Point], after: list[Point], reach: float
) -> tuple[list[Point], list[Point]]:
    """Return two lines drawn on, or cut, to where they meet; else joined square across."""
    if abs(before[-1] - after[0]) < SAME_POINT:
        return before, after
    first = [*before, before[-1] + _heading(before) * reach]
    second = [after[0] + _heading(after[::-1]) * reach, *after]
    corner = (before[-1] + after[0]) / 2
    meeting = _met(polyline(first), polyline(second), corner)
    if meeting is not None:
        return _until(first, meeting), _until(second[::-1], meeting)[::-1]
    if _run_together(first, second):
        return first, second
    return [*before, after[0]], after


def _heading(line: list[Point]) -> complex:
    """Return the direction in which a line arrives at its end."""
    back = next(p for p in reversed(line) if abs(p - line[-1]) > SAME_POINT)
    return unit(line[-1] - back)


def _run_together(first: list[Point], second: list[Point]) -> bool:
    """Return whether two lines draw nearer to each other as they are drawn on."""
    return abs(first[-1] - second[0]) < abs(first[-2] - second[1])


def _met(first: LineString, second: LineString, corner: Point) -> Place | None:
    """Return the place where two lines meet nearest to the corner between them, if they do."""
    met = first.intersection(second)
    places = [
        Place(xy)
        for part in getattr(met, "geoms", [met])
        if not part.is_empty
        for xy in part.coords
    ]
    return min(places, key=Place(corner.real, corner.imag).distance, default=None)


def _until(line: list[Point], place: Place) -> list[Point]:
    along = polyline(line)
    cut = substring(along, 0.0, along.project(place))
    return [*(complex(x, y) for x, y in list(cut.coords)[:-1]), complex(place.x, place.y)]


def _mended(outline: Polygon) -> Polygon:
    return outline if outline.is_valid else outline.buffer(0)


def _united(outline: Polygon) -> Polygon:
    """Return a valid outline without holes as it is when it is united with itself.

    So the line to cut begins and runs as it does with allowances.
    """
    ring = shapely.remove_repeated_points(outline.exterior)
    points = shapely.get_coordinates(ring)[:-1]
    in_order = np.roll(points[::-1], 1, 0) if ring.is_ccw else np.roll(points, -1, 0)
    return shapely.polygons(in_order)
