"""Draw a flat collar: front and back laid together at the neck point, their shoulders overlapping.

Front and back are laid together along the shoulder, so that their neck is one line; that line is
bent less by the angle of the overlap, as slits that overlap along the whole neck would bend it. So
it is as long as the neck, and as fair; the collar is drawn beside it.
"""

import math
from dataclasses import dataclass

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.following.as_sewn import cloth_beside, edge_beside, from_corner, other_corner
from trueup.geometry.following.bent import SEWN
from trueup.geometry.following.collar import CENTRE, FRONT, OUTER
from trueup.geometry.following.sewn_line import corners_between, runs_of
from trueup.geometry.lines.bending import bent_less
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.corners import between_corners
from trueup.geometry.lines.fewer import with_fewer_curves
from trueup.geometry.lines.interpolate import smooth_join, smooth_line
from trueup.geometry.lines.points import Motion, Point, dot, turn_between, unit
from trueup.geometry.pieces.draft import Draft, Run
from trueup.geometry.pieces.drafted import FlatCollarTo
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_LENGTH, SAME_POINT, SHORTEST_LEFT

_STRAIGHTEST = 0.8
"""Share of its bend that a neck line may lose: beyond, a collar is a straight one."""

_STATIONS = 24


@dataclass(frozen=True)
class _Neck:
    """Front and back laid together along the shoulder, in the paper of the back.

    Both necks run from the centre back on. `back_centre` and `front_centre` are the ways along the
    centres from the neck, `outward` turns the way along the neck towards the cloth.
    """

    back: Chain
    front: Chain
    shoulder: float
    back_centre: complex
    front_centre: complex
    outward: complex

    @property
    def turn(self) -> float:
        """Return by how much the neck bends from the centre back to the front, radians."""
        cubics = (*self.back.cubics, *self.front.cubics)
        turned, arrived = 0.0, self.back.start_tangent
        for cubic in cubics:
            for t in (0.0, 0.25, 0.5, 0.75, 1.0):
                turned += turn_between(arrived, cubic.tangent(t))
                arrived = cubic.tangent(t)
        return abs(turned)


def flat_collar(draft: Draft, to: FlatCollarTo) -> Piece:
    """Return the collar as neck and shoulders are now; raises NoSuchName, DoesNotFit."""
    runs = runs_of(draft, to.lines)
    neck = _laid_together(draft, runs)
    sewn = _lowered(neck, _share_left(neck, to.overlap), to.lowered)
    turned = sewn.end_tangent / neck.front.end_tangent
    forward = neck.front_centre * turned
    square = forward / neck.outward if dot(forward, sewn.end_tangent * neck.outward) > 0 else 0j
    up = math.sqrt(to.point**2 - to.lean**2)
    point = sewn.end + forward * up + square * to.lean
    back = sewn.start + neck.back_centre * to.width
    outer = _outer(sewn, neck, to.width, back, point).reversed()
    front = Chain.line(sewn.end, point)
    if to.rounded > SAME_POINT:
        front, outer = _rounded(front, outer, to.rounded)
    edges = (
        Edge(SEWN, "sewn-centre", "sewn-end", (sewn,)),
        Edge(FRONT, "sewn-end", "point", (front,)),
        Edge(OUTER, "point", "outer-centre", (outer,)),
        Edge(CENTRE, "outer-centre", "sewn-centre", (Chain.line(outer.end, sewn.start),)),
    )
    notches = tuple(
        Notch(corner, SEWN, Position("sewn-centre", distance=at))
        for corner, at in corners_between(draft, runs)
    )
    inside = unit(sewn.start_tangent) * min(10.0, sewn.length / 4)
    grain = Grainline(
        sewn.start + inside + neck.back_centre * to.width * 0.15,
        sewn.start + inside + neck.back_centre * to.width * 0.85,
    )
    return Piece(to.piece, edges, (), notches, grain, CENTRE if to.fold else None)


def _laid_together(draft: Draft, runs: tuple[Run, ...]) -> _Neck:
    first, second = runs
    back, front = draft.piece(first.piece), draft.piece(second.piece)
    one, other = back.edge(first.edge), front.edge(second.edge)
    centre = one.ends_at if first.backwards else one.starts_at
    end = other.starts_at if second.backwards else other.ends_at
    corner, near = other_corner(one, centre), other_corner(other, end)
    shoulders = [
        from_corner(edge_beside(back, one, corner), corner),
        from_corner(edge_beside(front, other, near), near),
    ]
    outward = cloth_beside(back, one, centre)
    # Along the shoulder from the neck, the cloth of the one lies where that of the other does not.
    sides = [
        cloth_beside(back, edge_beside(back, one, corner), corner),
        cloth_beside(front, edge_beside(front, other, near), near),
    ]
    line, ahead = from_corner(other, near), shoulders[1]
    down = from_corner(edge_beside(front, other, end), end).start_tangent
    # The centre lies in the paper beside it, the neck in the paper beside the shoulder.
    down *= line.end_tangent / -from_corner(other, end).start_tangent
    if sides[0] == sides[1]:
        line, ahead = _mirrored(line), _mirrored(ahead)
        down = down.conjugate()
    ways = [shoulder.end - shoulder.start for shoulder in (shoulders[0], ahead)]
    rotation = unit(ways[0] / ways[1])
    behind = from_corner(one, corner).reversed()
    lay = Motion(rotation, behind.end - rotation * line.start)
    up = from_corner(edge_beside(back, one, centre), centre).start_tangent
    up *= behind.start_tangent / from_corner(one, centre).start_tangent
    shorter = min(abs(way) for way in ways)
    laid = line.moved(lay).starting_at(behind.end)
    return _Neck(behind, laid, shorter, up, down * rotation, outward)


def _mirrored(line: Chain) -> Chain:
    return line.mapped(lambda point: point.conjugate())


def _share_left(neck: _Neck, overlap: float) -> float:
    """Return which share of its bend the neck keeps where the shoulders overlap so far."""
    most = min(_STRAIGHTEST * neck.turn, math.pi)
    largest = 2 * neck.shoulder * math.sin(most / 2)
    if overlap > largest:
        reason, possible = said("overlaps-too-far"), said("use-at-most", by=largest)
        raise DoesNotFit(reason, possible, largest=largest)
    if overlap < SAME_POINT:
        return 1.0
    return 1.0 - 2 * math.asin(overlap / (2 * neck.shoulder)) / neck.turn


def _lowered(neck: _Neck, share: float, by: float) -> Chain:
    """Return the neck edge of the collar, its end lower by an amount: there it bends less."""
    plain = bent_less([(neck.back, share), (neck.front, share)])
    if by < SAME_POINT:
        return plain
    down = neck.front_centre * plain.end_tangent / neck.front.end_tangent

    def drawn(less: float) -> Chain:
        return bent_less([(neck.back, share), (neck.front, share * (1 - less))])

    def lower(less: float) -> float:
        return dot(drawn(less).end - plain.end, down) - by

    found = root_between(lower, 0.0, _STRAIGHTEST, SAME_LENGTH)
    if found is None:
        largest = max(lower(_STRAIGHTEST) + by, 0.0)
        reason, possible = said("lowers-too-far"), said("use-at-most", by=largest)
        raise DoesNotFit(reason, possible, largest=largest)
    return drawn(found)


def _outer(sewn: Chain, neck: _Neck, width: float, back: Point, point: Point) -> Chain:
    """Return the outer edge beside the neck edge, from the centre back to the point.

    It comes to its two ends by a shift that grows evenly from where the shoulder is.
    """
    middle, whole = neck.back.length, sewn.length
    aside = [
        end - at - way * neck.outward * width
        for end, at, way in (
            (back, sewn.start, sewn.start_tangent),
            (point, sewn.end, sewn.end_tangent),
        )
    ]

    def shift(at: float) -> complex:
        if at < middle:
            return aside[0] * (1 - at / middle) ** 2
        return aside[1] * ((at - middle) / (whole - middle)) ** 2

    outer: Chain | None = None
    done, arrived, corner = 0.0, 0j, 0j
    for run in between_corners(sewn):
        count = max(4, round(_STATIONS * run.length / whole))
        points = [
            run.point_at(s) + run.tangent_at(s) * neck.outward * width + shift(done + s)
            for s in (run.length * k / count for k in range(count))
        ]
        done += run.length
        points.append(run.end + run.end_tangent * neck.outward * width + shift(done))
        if outer is None:
            leaving = neck.back_centre / neck.outward
            outer = smooth_line(points, leaving, _arriving(points))
        else:
            beside = smooth_line(points, -_arriving(points[::-1]), _arriving(points))
            ways = arrived, run.start_tangent
            outer = _mitred(outer, beside, corner, ways, neck.outward * width)
        arrived, corner = run.end_tangent, run.end
    assert outer is not None
    return with_fewer_curves(outer.starting_at(back).ending_at(point))


def _mitred(
    one: Chain, other: Chain, corner: Point, ways: tuple[complex, complex], aside: complex
) -> Chain:
    """Return two lines beside a line with a corner, drawn on or cut short to where they meet.

    `ways` are those in which the line comes to its corner and leaves it.
    """
    before, after = ways
    miter = (before + after) * aside / abs(aside)
    if dot(after, before * aside) < 0:
        meets = corner + 2 * abs(aside) * miter / abs(miter) ** 2
        between = Chain.line(one.end, meets, other.start)
        return Chain.joining([one, between, other])
    cut, rest = (
        [s for s in line.crossings(corner, miter) if dot(line.point_at(s) - corner, miter) > 0]
        for line in (one, other)
    )
    if not cut or not rest:
        raise DoesNotFit(said("hollow-corner"), said("narrower"))
    first, second = one.between(0.0, cut[-1]), other.between(rest[0], other.length)
    meets = (first.end + second.start) / 2
    return Chain.joining([first.ending_at(meets), second.starting_at(meets)])


def _arriving(points: list[Point]) -> complex:
    """Return in which direction a line through points arrives, as the circle of the last does."""
    one, two, three = points[-3:]
    return 2 * unit(three - two) - unit(three - one)


def _rounded(front: Chain, outer: Chain, reach: float) -> tuple[Chain, Chain]:
    """Return front and outer edge with the corner between them drawn round, as part of the outer.

    Raises DoesNotFit where too little would be left of the front edge.
    """
    largest = min(front.length - SHORTEST_LEFT, outer.length / 2)
    if reach > largest:
        reason, possible = said("rounds-too-far"), said("use-at-most", by=largest)
        raise DoesNotFit(reason, possible, largest=largest)
    straight, rest = front.between(0.0, front.length - reach), outer.between(reach, outer.length)
    corner = smooth_join(straight.end, straight.end_tangent, rest.start, rest.start_tangent)
    return straight, Chain.joining([corner, rest])
