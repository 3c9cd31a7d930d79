"""Spread a back across the shoulder blades, its dart above taking in what opens."""

from dataclasses import replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point, dot, turn_between
from trueup.geometry.lines.polygons import polyline
from trueup.geometry.measuring.tape import ARMHOLE, CENTRE
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.darts import SMALLEST_INTAKE, room_for_tip
from trueup.geometry.redrawing.marks import on_own_side
from trueup.geometry.redrawing.turning.moving import joined_at, moved_stretch, trued_at
from trueup.geometry.redrawing.turning.ring import Stretch, joined_edges
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT, SHORTEST_LEFT


def spread_over_blades(piece: Piece, dart: str, by: float) -> Piece:
    """Return a back longer at its centre over the blades by so much, mm, to nothing at the armhole.

    It is slashed from the centre to the point that a dart of the neck or the shoulder aims at, and
    on to the armhole. Above the slash the paper at the centre goes straight up along it; the rest
    turns about the place on the armhole, and the dart between the two opens by as much. Neck,
    shoulder and armhole keep their sewn length, but that the armhole is drawn fair where it was
    turned. Raises DoesNotFit where the slash does not run so, or nothing would be left of the dart.
    """
    mouth = piece.mouth(dart)
    blade = mouth.dart.apex
    at_centre = _at_centre(piece, blade)
    up = _upwards(piece, at_centre)
    apex = blade + up * by
    part, length = _at_armhole(piece, blade + up * by / 2, up)
    ring, last = _ring(piece, at_centre, part, length)
    pivot = ring[last].line.end
    _require_free(piece, dart, (ring[0].line.start, blade, pivot))
    opens = next((k for k, s in enumerate(ring) if s.dart == mouth.dart), len(ring))
    if opens > last:
        raise DoesNotFit(said("dart-not-above", dart=dart), said("name-another-dart"), dart=dart)
    lift, turn = (
        Motion(shift=up * by),
        Motion.turn(pivot, turn_between(blade - pivot, apex - pivot)),
    )
    motions = [lift if k <= opens else turn if k <= last else Motion() for k in range(len(ring))]
    moved = tuple(
        moved_stretch(s, motion, apex if k == opens else None)
        for k, (s, motion) in enumerate(zip(ring, motions, strict=True))
    )
    spread = _put_together(piece, joined_at(moved, last + 1), at_centre, up * by)
    station = sum(p.length for p in piece.edge(ARMHOLE).parts[:part]) + length
    fair = spread.with_edges(trued_at(piece.edge(ARMHOLE), spread.edge(ARMHOLE), station))
    opened = fair.mouth(dart)
    if opened.intake < SMALLEST_INTAKE or opened.angle * mouth.angle <= 0:
        raise DoesNotFit(said("nothing-left-of-dart", dart=dart), dart=dart)
    if opened.dart.setback > room_for_tip(opened):
        raise DoesNotFit(said("mouth-at-tip"), said("tip-back-first"), dart=dart)
    return fair


def _at_centre(piece: Piece, blade: Point) -> float:
    centre = piece.edge(CENTRE)
    met = [] if centre.darts else centre.parts[0].crossings(complex(0.0, blade.imag), 1)
    if len(met) != 1 or not SHORTEST_LEFT < met[0] < centre.length - SHORTEST_LEFT:
        raise DoesNotFit(said("slash-off-centre"), said("name-another-dart"), edge=CENTRE)
    return met[0]


def _upwards(piece: Piece, at: float) -> complex:
    way = piece.edge(CENTRE).parts[0].tangent_at(at)
    return way if way.imag < 0 else -way


def _at_armhole(piece: Piece, through: Point, up: complex) -> tuple[int, float]:
    """Return the part of the armhole, and the length along it, at which a square slash ends."""
    away = piece.edge(ARMHOLE).end - piece.edge(CENTRE).end
    out = up * 1j if dot(up * 1j, away) > 0 else -up * 1j
    met = [
        (index, length)
        for index, part in enumerate(piece.edge(ARMHOLE).parts)
        for length in part.crossings(through, out)
        if SHORTEST_LEFT < length < part.length - SHORTEST_LEFT
        and dot(part.point_at(length) - through, out) > 0
    ]
    if len(met) != 1:
        raise DoesNotFit(said("slash-off-armhole"), said("name-another-dart"), edge=ARMHOLE)
    return met[0]


def _require_free(piece: Piece, dart: str, ends: tuple[Point, ...]) -> None:
    slash = polyline(ends)
    wedges = {
        mouth.dart.name: polyline((mouth.first, mouth.tip, mouth.second))
        for edge in piece.edges
        for mouth in edge.mouths
        if mouth.dart.name != dart
    }
    wedges |= {inner.name: inner.diamond for inner in piece.inner_darts}
    for name, wedge in wedges.items():
        if wedge.intersects(slash):
            reason = said("crosses-dart", dart=f"{piece.name}.{name}")
            raise DoesNotFit(reason, said("place-or-shorten"), dart=name)


def _ring(piece: Piece, at_centre: float, part: int, length: float) -> tuple[list[Stretch], int]:
    """Return the stretches of the ring from the slash at the centre up, cut at the armhole too.

    The second value is which of them is the last before the cut at the armhole.
    """
    ring = [
        Stretch(e.name, line, following)
        for e in piece.edges
        for line, following in zip(e.parts, (*e.darts, None), strict=True)
    ]
    at = next(k for k, s in enumerate(ring) if s.line is piece.edge(ARMHOLE).parts[part])
    above, below = ring[at].line.split_at(length)
    ring[at : at + 1] = [Stretch(ARMHOLE, above), Stretch(ARMHOLE, below, ring[at].dart)]
    at = next(k for k, s in enumerate(ring) if s.edge == CENTRE)
    low, high = ring[at].line.split_at(at_centre)
    ring = [Stretch(CENTRE, high), *ring[at + 1 :], *ring[:at], Stretch(CENTRE, low)]
    return ring, next(k for k, s in enumerate(ring) if s.line is above)


def _put_together(piece: Piece, ring: tuple[Stretch, ...], at: float, step: complex) -> Piece:
    """Return the piece of a ring whose centre is drawn straight on across the open slash."""
    low, high = ring[-1].line, ring[0].line
    if dot(high.start - low.end, low.end_tangent) < 0:
        gone = low.length - abs(step)
        line = Chain.joining([low.between(0.0, gone).ending_at(high.start), high])
    else:
        line = Chain.joining([low, Chain.line(low.end, high.start), high])
    whole = (Stretch(CENTRE, line), *ring[1:-1])
    edges = joined_edges(piece, whole)
    centre = next(edge for edge in edges if edge.name == CENTRE)
    slash = piece.edge(CENTRE).point_at(at).imag
    levels = tuple(
        replace(level, y=level.y + step.imag)
        if level.y < slash - SAME_POINT and not level.along
        else level
        for level in piece.levels
    )
    notches = tuple(on_own_side(notch, piece.edge(CENTRE), centre, at) for notch in piece.notches)
    return replace(piece, edges=edges, levels=levels, notches=notches)
