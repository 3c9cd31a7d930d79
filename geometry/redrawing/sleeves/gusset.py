"""Slash a front or a back at its underarm, and draw the diamond that is set in. Lengths in mm."""

from dataclasses import replace

from shapely.geometry import Point as Spot

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import degrees_between, unit
from trueup.geometry.lines.polygons import polyline
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Piece
from trueup.geometry.redrawing.move_corner import end_cut, start_cut
from trueup.geometry.redrawing.sleeves.in_one import SIDE, UNDERARM
from trueup.geometry.said import said
from trueup.geometry.tolerance import CLOTH_LEFT, SAME_POINT

UPPER, LOWER, AT_ARM, POINT = "gusset-upper", "gusset-lower", "gusset-arm", "gusset-point"
_ROUND = 30.0
"""Underarm and side that turn by less, degrees, where they meet, have no corner to slash."""

_GRAIN = 0.6


def wedge(piece: Piece) -> float:
    """Return the angle between underarm and side where they meet, degrees.

    Raises NoSuchName, and DoesNotFit where they run into each other.
    """
    back, down = (
        -piece.edge(UNDERARM).parts[-1].end_tangent,
        piece.edge(SIDE).parts[0].start_tangent,
    )
    if degrees_between(-back, down) < _ROUND:
        raise DoesNotFit(said("no-corner-there"), said("round-nothing"), piece.name, UNDERARM)
    return degrees_between(back, down)


def slashed(piece: Piece, leg: float, mouth: float) -> Piece:
    """Return a piece slashed from the corner of its underarm and side into the cloth between them.

    Both legs are so long, and begin `mouth` from the corner. Raises NoSuchName, DoesNotFit.
    """
    under, side = piece.edge(UNDERARM), piece.edge(SIDE)
    back, down = -under.parts[-1].end_tangent, side.parts[0].start_tangent
    cut, shorter = end_cut(under, mouth), start_cut(side, mouth)
    inwards = -unit(back + down)
    # The tip lies half way between both, as far from either end of the mouth.
    middle = (cut.end + shorter.start) / 2
    half = abs(cut.end - shorter.start) / 2
    tip = middle + inwards * float((leg**2 - half**2) ** 0.5)
    upper = Edge(UPPER, AT_ARM, POINT, (Chain.line(cut.end, tip),))
    lower = Edge(LOWER, POINT, side.starts_at, (Chain.line(tip, shorter.start),))
    edges: list[Edge] = []
    for edge in piece.edges:
        if edge is under:
            edges += [replace(cut, ends_at=AT_ARM), upper, lower]
        else:
            edges.append(shorter if edge is side else edge)
    return replace(piece, edges=tuple(edges))


def lies_inside(before: Piece, after: Piece) -> bool:
    """Return whether the slash of a piece lies in its cloth, its point clear of other lines."""
    upper, lower = after.edge(UPPER), after.edge(LOWER)
    tip = Spot(upper.end.real, upper.end.imag)
    cloth = before.cloth
    middle = polyline(((upper.start + lower.end) / 2, upper.end))
    clear = cloth.covers(tip) and cloth.boundary.distance(tip) > CLOTH_LEFT
    # It begins in the mouth, beyond the cloth that is left of the corner.
    outside = middle.difference(cloth).length
    mouth = abs(upper.start - before.edge(UNDERARM).end)
    return bool(after.is_simple and clear and outside < mouth + SAME_POINT)


def gusset(name: str, leg: float, wide: float) -> Piece:
    """Return a diamond whose four sides are so long, so wide from the arm to the side."""
    far = float((leg**2 - (wide / 2) ** 2) ** 0.5)
    corners = {
        "front-point": complex(-far, 0),
        "arm": complex(0, -wide / 2),
        "back-point": complex(far, 0),
        "side": complex(0, wide / 2),
    }
    names = ("front-upper", "back-upper", "back-lower", "front-lower")
    at = [*corners.items()]
    edges = tuple(
        Edge(edge, at[k][0], at[(k + 1) % 4][0], (Chain.line(at[k][1], at[(k + 1) % 4][1]),))
        for k, edge in enumerate(names)
    )
    grain = Grainline(complex(-_GRAIN * far, 0), complex(_GRAIN * far, 0))
    return Piece(name, edges, grainline=grain)
