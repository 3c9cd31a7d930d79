"""Points of the plane as shapely takes them, all of a line at once."""

from collections.abc import Iterable

import shapely
from shapely import LineString, Polygon

from trueup.geometry.lines.points import Point, coordinates


def polygon(points: Iterable[Point]) -> Polygon:
    """Return the polygon through points; it may cross itself."""
    return shapely.polygons(coordinates(points))


def polyline(points: Iterable[Point]) -> LineString:
    """Return the straight lines from point to point."""
    return shapely.linestrings(coordinates(points))
