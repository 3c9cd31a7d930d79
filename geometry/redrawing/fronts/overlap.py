"""Draw a front past its centre, along a new edge, with what the other half has there."""

import cmath
import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import shapely

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_join
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.dart import InnerDart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.drawn_on import reversed_edge
from trueup.geometry.redrawing.fronts.past_centre import (
    FRONT_EDGE,
    Mirror,
    kept_notch,
    others,
    overlap_name,
    turned,
    until,
    way_along,
    with_centre_line,
    without_start,
)
from trueup.geometry.redrawing.move_corner import meeting
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_AREA, SAME_POINT, SHORTEST_LEFT


@dataclass(frozen=True)
class Overlap:
    """How far a front goes past its centre: the place where its edge begins, and where it ends.

    The edge begins on `starts`, on that of the other half where it lies `beyond` the centre, and
    ends so far past the centre, mm, along the edge below; it bows out by `curve`.
    """

    centre: str
    starts: str
    at: Position
    beyond: bool
    by: float
    curve: float


def overlapped(piece: Piece, to: Overlap) -> Piece:
    """Return a piece drawn past its centre; raises NoSuchName, BadPosition, DoesNotFit."""
    before, after = piece.neighbours(to.centre)
    over, _ = piece.neighbours(before.name)
    if to.starts in (before.name, over.name) and to.starts != after.name:
        # Worked on in the order in which the centre is followed by where the edge begins.
        return turned(_overlapped(turned(piece), to))
    return _overlapped(piece, to)


def _overlapped(piece: Piece, to: Overlap) -> Piece:
    centre = piece.edge(to.centre)
    lower, upper = piece.neighbours(to.centre)
    mirror = Mirror(centre.start, way_along(centre))
    below = until(mirror.edge(reversed_edge(lower)), to.by)
    above, kept = _upper(piece, upper, mirror, to)
    end, start = below.end, above.end if above else kept[0].start
    corners = f"{FRONT_EDGE}-{lower.name}", f"{FRONT_EDGE}-{to.starts}"
    drawn = _bowed(end, start, to.curve * -piece.inward)
    past = [
        replace(below, name=overlap_name(lower.name), starts_at=lower.ends_at, ends_at=corners[0]),
        Edge(FRONT_EDGE, *corners, (drawn,)),
    ]
    if above:
        back = replace(above, name=overlap_name(upper.name), starts_at=upper.starts_at)
        past.append(reversed_edge(replace(back, ends_at=corners[1])))
    else:
        kept[0] = replace(kept[0], starts_at=corners[1])
    names = [edge.name for edge in kept]
    ring = [*past, *kept, *others(piece, to.centre, names)]
    changed = replace(
        piece,
        edges=tuple(ring),
        inner_darts=(),
        notches=(),
        fold=None,
        allowances=tuple(a for a in piece.allowances if a[0] in [edge.name for edge in ring]),
    )
    inner = tuple(_inner_darts(piece, changed, mirror))
    notches = tuple(filter(None, (kept_notch(piece, changed, n) for n in piece.notches)))
    return with_centre_line(replace(changed, inner_darts=inner, notches=notches), lower, centre)


def _upper(
    piece: Piece, upper: Edge, mirror: Mirror, to: Overlap
) -> tuple[Edge | None, list[Edge]]:
    """Return the edge above as far as it goes past the centre, and what stays of the own half."""
    over = piece.neighbours(upper.name)[1]
    along = to.at.along(piece.edge(to.starts))
    if to.beyond and to.starts == upper.name:
        if along < SHORTEST_LEFT:
            return None, [upper]
        return until(meeting(mirror.edge(upper), start=upper.start), along), [upper]
    if to.starts == upper.name:
        return None, [without_start(upper, along)]
    if to.starts == over.name and not to.beyond:
        return None, [without_start(over, along) if along > SAME_POINT else over]
    raise DoesNotFit(said("edge-not-above", edge=to.starts), said("name-another-edge"))


def _bowed(start: Point, end: Point, aside: complex) -> Chain:
    """Return a line that bows out by an arc; `aside` turns its way to where, and says how far."""
    if abs(aside) < SAME_POINT:
        return Chain.line(start, end)
    way = end - start
    angle = 2 * math.atan(2 * abs(aside) / abs(way))
    turn = cmath.rect(1.0, math.copysign(angle, (aside / 1j).real))
    return smooth_join(start, way * turn, end, way / turn)


def _inner_darts(piece: Piece, changed: Piece, mirror: Mirror) -> Iterator[InnerDart]:
    """Yield the darts inside both halves that lie in the new cloth whole.

    Raises DoesNotFit where the new edge runs across one of the half itself.
    """
    cloth = shapely.make_valid(changed.outline_polygon)
    for dart in piece.inner_darts:
        if cloth.covers(dart.diamond):
            yield dart
        elif cloth.intersection(dart.diamond).area > SAME_AREA:
            reason, possible = said("crosses-dart", dart=dart.name), said("smaller-or-move-dart")
            raise DoesNotFit(reason, possible, dart=dart.name)
    yield from filter(lambda d: cloth.covers(d.diamond), map(mirror.inner, piece.inner_darts))
