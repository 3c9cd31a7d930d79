"""Draw a hem up to the new end of the edge that comes down to it, at the angle it had there."""

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_join
from trueup.geometry.lines.points import Point, cross
from trueup.geometry.pieces.closed_line import reshaped
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.tolerance import SAME_POINT, SHORTEST_LEFT

_SWING = 150.0
_LEAST_SWING = 40.0
_MOST_OF_IT = 0.9


def hem_met(hem: Edge, corner: Point, heading: complex) -> Edge:
    """Return a hem drawn from where its side now ends, setting out in a heading.

    It is left for the side where an even bend up to there begins. Where none bends one way only,
    it swings back into the old line within 150 mm.
    """

    def drawn(line: Chain) -> Chain:
        reach = min(_even_bend(line, corner, heading) or _SWING, line.length * _MOST_OF_IT)
        there = line.split_at(reach)[1]
        bend = smooth_join(corner, heading, there.start, there.start_tangent)
        return Chain.joining([bend, there])

    return reshaped(hem, drawn)


def _even_bend(line: Chain, corner: Point, heading: complex) -> float | None:
    """Return how far along a line an arc from a corner runs into it, if it can bend one way only.

    Both its ends lie as far from the point where their tangents meet.
    """
    slant, way = cross(heading, line.start_tangent), line.start - corner
    if abs(slant) < SAME_POINT:
        return None
    ahead = cross(way, line.start_tangent) / slant
    along = cross(way, heading) / slant
    return along + ahead if ahead > SHORTEST_LEFT and along + ahead > _LEAST_SWING else None
