"""The leg of trousers: what its edges are called, and how its lines are moved. Lengths in mm."""

from dataclasses import replace

from trueup.geometry.errors import DoesNotFit, NoSuchName
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Motion, Point
from trueup.geometry.pieces.closed_line import ClosedLine
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.move_corner import carried, taper
from trueup.geometry.said import said
from trueup.geometry.tolerance import SHORTEST_LEFT

SIDE, HEM, INSEAM, CROTCH, WAIST = "side", "hem", "inseam", "crotch", "waist"
HIP_LEVEL, CROTCH_LEVEL, KNEE_LEVEL = "hip", "crotch", "knee"


def is_leg(piece: Piece) -> bool:
    """Return whether a piece is the front or the back of a trouser leg."""
    return {SIDE, HEM, INSEAM, CROTCH, WAIST} <= {*piece.edge_names}


def leg_pieces(draft: Draft) -> tuple[Piece, ...]:
    """Return the pieces that are legs of trousers; raises NoSuchName where there are none."""
    legs = tuple(piece for piece in draft.pieces if is_leg(piece))
    if not legs:
        raise NoSuchName("edge", INSEAM, "this draft", draft.piece_names)
    return legs


def outward(leg: Piece) -> complex:
    """Return the direction square to the crease in which the side lies."""
    hem = leg.edge(HEM)
    return 1.0 + 0j if hem.start.real > hem.end.real else -1.0 + 0j


def station_at(leg: Piece, line: ClosedLine, level: str) -> float:
    """Return how far along a closed line a leg passes one of its levels last, mm.

    Raises NoSuchName for a level it does not have, DoesNotFit where the line does not pass it.
    """
    y = leg.level(level).y
    starts = (0.0, *line.dart_stations)
    met = [
        start + at
        for start, part in zip(starts, line.edge.parts, strict=True)
        for at in part.crossings(complex(0.0, y), 1)
    ]
    inside = [at for at in met if SHORTEST_LEFT < at < line.chain.length - SHORTEST_LEFT]
    if not inside:
        reason = said("side-off-level", level=level)
        raise DoesNotFit(reason, said("another-level"), piece=leg.name, edge=line.edge.name)
    return max(inside)


def moved_edge(edge: Edge, motion: Motion) -> Edge:
    """Return an edge moved bodily, its darts with it."""
    darts = tuple(replace(dart, apex=motion(dart.apex)) for dart in edge.darts)
    return replace(edge, parts=tuple(part.moved(motion) for part in edge.parts), darts=darts)


def end_carried_from(chain: Chain, motion: Motion, reach: float) -> Chain:
    """Return a line with its end carried by a motion, fading to nothing `reach` mm before it."""
    back = chain.reversed().cut_at([reach])
    return carried(back, (motion, taper(reach))).reversed()


def stretched_between(chain: Chain, high: float, low: float, by: float) -> Chain:
    """Return a line stretched downwards by `by` mm between two levels, y mm down the page.

    What lies above the high one stays, what lies below the low one moves down bodily, and the
    stretching fades in and out between them, so that directions stay at both. Each curve gains the
    curve that has the map's place and slope at its ends (Hermite form).
    """
    cubics: list[Cubic] = []
    for cubic in chain.cubics:
        (start, near), (end, far) = (_lowered(p, high, low, by) for p in (cubic.start, cubic.end))
        leaving, arriving = cubic.start_control - cubic.start, cubic.end - cubic.end_control
        leaving = complex(leaving.real, leaving.imag * near)
        arriving = complex(arriving.real, arriving.imag * far)
        start = cubics[-1].end if cubics else start
        cubics.append(Cubic(start, start + leaving, end - arriving, end))
    return Chain(tuple(cubics))


def _lowered(point: Point, high: float, low: float, by: float) -> tuple[Point, float]:
    """Return where a point comes to lie, and by how much the cloth is stretched there."""
    s = min(max((point.imag - high) / (low - high), 0.0), 1.0)
    moved = point + complex(0.0, by * s * s * (3 - 2 * s))
    return moved, 1 + by * 6 * s * (1 - s) / (low - high)
