"""Cut a front or a back in two along a raglan line, and tell what goes over to the sleeve."""

from dataclasses import dataclass, replace
from itertools import accumulate

from trueup.geometry.cuts.cutting import StyleLine, cut_in_two
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.bodice import BACK, FRONT
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.between_tangents import tightest
from trueup.geometry.redrawing.darts import require_no_dart
from trueup.geometry.redrawing.sleeves.raglan import Upper, leads_above, raglan_line
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_LENGTH, SHORTEST_LEFT, TIGHTEST_RADIUS

LINE, NECK, ARMHOLE, SHOULDER = "raglan", "neck", "armhole", "shoulder"
LINE_END = "line-end"
AT_NECK, AT_ARMHOLE = f"{LINE}-{NECK}", f"{LINE}-{ARMHOLE}"
_NOTCHES = {FRONT: "front", BACK: "back-upper"}
_OF_THE_REST = 0.8
"""How far up an armhole a place is looked for, of what lies above its notch."""


@dataclass(frozen=True)
class Parted:
    """Front or back in two: what stays of it, and what goes over to the sleeve."""

    lower: Piece
    upper: Piece

    @property
    def laid_as(self) -> Upper:
        """Return what goes over as it is laid on the sleeve."""
        line, neck = self.upper.edge(LINE), self.upper.edge(NECK)
        return Upper(
            _from(line, AT_ARMHOLE),
            _from(neck, AT_NECK),
            self.upper.corner(_at_shoulder(self.upper)),
            self.lower.edge(ARMHOLE).length,
        )


def parted(piece: Piece, from_neck: float, at: Position | None, out: float | None) -> Parted:
    """Return a front or a back cut along a line from its neck to its armhole.

    The line begins so far from the neck point, mm, and ends at a place, or where the armhole leads
    up to the neck; it stands out by so much, mm, or as it comes. Raises NoSuchName, BadPosition,
    DoesNotFit.
    """
    armhole, neck, shoulder = (piece.edge(name) for name in (ARMHOLE, NECK, SHOULDER))
    require_no_dart(shoulder, said("turn-off-upper"))
    top = _at_shoulder(piece)
    (neck_point,) = {neck.starts_at, neck.ends_at} & {shoulder.starts_at, shoulder.ends_at}
    on_neck = Position(neck_point, distance=from_neck)
    at = at or _leading_up(piece, neck.point_at(on_neck.along(neck)))
    for edge, place, end in ((armhole, at, top), (neck, on_neck, neck_point)):
        _require_clear(edge, place.along(edge), end)
    heading = _heading(piece, at.along(armhole))
    style = StyleLine(LINE, ARMHOLE, NECK, at, on_neck)

    def line(start: Point, end: Point) -> Chain:
        return raglan_line(start, heading, end, piece.corner(top), out)

    _, parts = cut_in_two(piece, style, line)
    upper, lower = sorted(parts, key=lambda part: SHOULDER not in part.edge_names)
    for dart in upper.inner_darts:
        reason = said("dart-goes-over", dart=dart.name)
        raise DoesNotFit(reason, said("another-line"), edge=ARMHOLE, dart=dart.name)
    radius = tightest(lower.edge(LINE).parts[0].cubics[0])
    if radius < TIGHTEST_RADIUS:
        reason = said("raglan-bends", radius=radius)
        raise DoesNotFit(reason, said("raglan-other-curve"), edge=ARMHOLE)
    return Parted(_notched_at_end(replace(lower, name=piece.name)), upper)


def _require_clear(edge: Edge, along: float, end: str) -> None:
    """Raise DoesNotFit where a dart opens on an edge between a place and one end of it."""
    ends = accumulate(part.length for part in edge.parts)
    for dart, station in zip(edge.darts, ends, strict=False):
        if station < along if end == edge.starts_at else station > along:
            reason = said("dart-opens-on", dart=dart.name, line=edge.name)
            raise DoesNotFit(reason, said("turn-off-upper"), edge=edge.name, dart=dart.name)


def _notched_at_end(lower: Piece) -> Piece:
    """Return what stays of a piece with a notch where its armhole goes on as the line."""
    armhole = lower.edge(ARMHOLE)
    end = 0.0 if armhole.starts_at == AT_ARMHOLE else armhole.length
    there = (n for n in lower.notches if n.edge == ARMHOLE)
    if any(abs(notch.at.along(armhole) - end) < SHORTEST_LEFT for notch in there):
        return lower
    return lower.with_notches(Notch(LINE_END, ARMHOLE, Position(AT_ARMHOLE, distance=0.0)))


def _leading_up(piece: Piece, neck: Point) -> Position:
    """Return the place at the notch of an armhole, or above it where that leads below the neck."""
    armhole, top = piece.edge(ARMHOLE), _at_shoulder(piece)
    name = _NOTCHES[piece.name]
    notch = next((n for n in piece.notches if (n.edge, n.name) == (ARMHOLE, name)), None)
    if notch is None:
        raise DoesNotFit(said("no-such-notch", notch=name), said("say-where"), edge=ARMHOLE)

    def leads(along: float) -> float:
        place, heading = armhole.point_at(along), _heading(piece, along)
        return leads_above(place, heading, neck, piece.corner(top))

    low = notch.at.along(armhole)
    if leads(low) >= 0:
        return notch.at
    high = low + _OF_THE_REST * ((0.0 if armhole.starts_at == top else armhole.length) - low)
    found = root_between(leads, low, high, SAME_LENGTH)
    return notch.at if found is None else Position(armhole.starts_at, distance=found)


def _heading(piece: Piece, along: float) -> complex:
    """Return the direction in which the armhole comes up to a place, from the underarm."""
    armhole = piece.edge(ARMHOLE)
    back = armhole.starts_at == _at_shoulder(piece)
    return armhole.place_at(along)[1] * (-1 if back else 1)


def _at_shoulder(piece: Piece) -> str:
    """Return the corner at which armhole and shoulder meet."""
    one, other = piece.edge(ARMHOLE), piece.edge(SHOULDER)
    return min({one.starts_at, one.ends_at} & {other.starts_at, other.ends_at})


def _from(edge: Edge, corner: str) -> Chain:
    return edge.parts[0] if edge.starts_at == corner else edge.parts[0].reversed()
