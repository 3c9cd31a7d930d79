"""Lay the parts of a cut piece together again: the piece as a whole, as it is sewn.

Each part stays where the whole had it on the table. What the style line interrupts is laid together
where the line meets it, like the legs of a dart: so that the line of the one part runs on in the
direction of the other's. Where both run in one direction, nothing has to be turned.
"""

from collections.abc import Iterator
from dataclasses import replace

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point, dot, unit
from trueup.geometry.marking.on_parts import marks_of_whole
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.cut import Cut, LineEnd
from trueup.geometry.pieces.dart import Dart, InnerDart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import SAME_POINT

_SHARE = 0.3
"""How much of a line is taken for the legs of a dart at either end of it, at most."""

AT_APEX = 1.0
"""How far from its apex a dart of the whole ends that is a line of its parts, mm: two of one apex
must not touch."""

_FAR = 1e5
"""How far away lines meet that run beside each other, mm."""

_PARALLEL = 1e-7


def line_of_part(cut: Cut, part: Piece) -> Chain:
    """Return the style line as a part has it, from where it begins to where it ends, as sewn."""
    line = closed(part.edge(cut.line)).chain
    return line.reversed() if part.name == cut.parts[0] else line


def laid_together(cut: Cut, first: Piece, second: Piece) -> Piece:
    """Return the whole as its parts are now."""
    lines = line_of_part(cut, first), line_of_part(cut, second)
    edges = [_edge(cut, edge, first, second, lines) for edge in cut.whole.edges]
    own = {dart.name: dart for part in (first, second) for dart in part.inner_darts}
    inner = tuple(
        own[dart.name] if dart.name in own else _taken_in(dart, lines)
        for dart in cut.whole.inner_darts
    )
    allowances = tuple(_stated(cut, first, second))
    laid = replace(
        cut.whole,
        edges=tuple(edges),
        inner_darts=inner,
        fold=first.fold or second.fold,
        allowances=allowances,
    )
    marks = marks_of_whole(laid, first, second)
    laid = laid if marks == laid.marks else replace(laid, marks=marks)
    if laid == cut.whole:
        return cut.whole
    return laid if laid.is_simple else _with_short_darts(cut, laid, lines)


def _with_short_darts(cut: Cut, laid: Piece, lines: tuple[Chain, Chain]) -> Piece:
    """Return a whole whose darts in the line, told shorter, keep clear of each other.

    Lines that were drawn otherwise since may turn past each other, where the parts never meet.
    """
    reach = _SHARE * min(line.length for line in lines)
    for end in (cut.begins, cut.ends):
        mouth = laid.mouth(end.dart)
        away = abs((mouth.first + mouth.second) / 2 - mouth.dart.apex)
        short = replace(mouth.dart, setback=max(away - reach, mouth.dart.setback))
        laid = laid.with_dart(short)
    return laid


def _edge(cut: Cut, edge: Edge, first: Piece, second: Piece, lines: tuple[Chain, Chain]) -> Edge:
    """Return an edge of the whole: that of a part, or those of both with the line between them."""
    if edge.name == cut.begins.edge:
        before, after = second.edge(edge.name), first.edge(edge.name)
        dart = _mouth(_dart(edge, cut.begins), lines[1], lines[0])
    elif edge.name == cut.ends.edge:
        before, after = first.edge(edge.name), second.edge(edge.name)
        dart = _mouth(_dart(edge, cut.ends), lines[0].reversed(), lines[1].reversed())
    else:
        part = first if edge.name in first.edge_names else second
        return part.edge(edge.name)
    darts = (*before.darts, dart, *after.darts)
    whole = replace(edge, parts=(*before.parts, *after.parts), darts=darts)
    return edge if whole == edge else whole


def _dart(edge: Edge, end: LineEnd) -> Dart:
    return next(dart for dart in edge.darts if dart.name == end.dart)


def _mouth(old: Dart, before: Chain, after: Chain) -> Dart:
    """Return the dart that two lines make which set out from an edge, the one before it in order.

    It closes by the motion that lays the second on the first where they begin, point on point and
    direction on direction; as it was, where that is by the same apex. It ends at its apex, or after
    a share of the lines where they do not come to it.
    """
    one, other = before.start, after.start
    ahead = before.start_tangent
    turn = unit(ahead / after.start_tangent)
    shorter = min(before.length, after.length)
    reach = _SHARE * shorter
    if abs(turn - 1) > _PARALLEL:
        apex = (one - turn * other) / (1 - turn)
    elif abs(one - other) < SAME_POINT:
        return _kept_or(old, replace(old, apex=one + ahead * reach, setback=0.0))
    else:
        apex = (one + other) / 2 + ahead * _FAR
    middle = (one + other) / 2
    away = abs(apex - middle)
    if dot(apex - middle, ahead) < 0:
        setback = away + reach
    else:
        setback = AT_APEX if away < shorter else away - reach
    return _kept_or(old, replace(old, apex=apex, setback=setback))


def mouth_between(old: Dart, before: Chain, after: Chain) -> Dart:
    """Return the dart that two lines make which set out from an edge; of no intake where they meet.

    Lines that set out from one point are one line there, however each of them goes on.
    """
    if abs(before.start - after.start) > SAME_POINT:
        return _mouth(old, before, after)
    reach = _SHARE * min(before.length, after.length)
    ahead = before.start + before.start_tangent * reach
    return _kept_or(old, replace(old, apex=ahead, setback=0.0))


def _kept_or(old: Dart, new: Dart) -> Dart:
    """Return the dart there was where the new one turns about the same apex, but for noise."""
    return old if abs(old.apex - new.apex) < 100 * SAME_POINT else new


def _taken_in(dart: InnerDart, lines: tuple[Chain, Chain]) -> InnerDart:
    """Return a dart that the line runs through, as the two parts leave it out between them."""
    upper, lower = (_between(tip, lines) for tip in (dart.upper, dart.lower))
    places = (
        [_across(dart.left, line) for line in lines],
        [_across(dart.right, line) for line in lines],
    )
    near = abs(places[0][0] - dart.left) <= abs(places[0][1] - dart.left)
    left, right = (places[0][0], places[1][1]) if near else (places[0][1], places[1][0])
    found = replace(dart, upper=upper, lower=lower, left=left, right=right)
    pairs = zip(_points(dart), _points(found), strict=True)
    return dart if max(abs(a - b) for a, b in pairs) < 100 * SAME_POINT else found


def _points(dart: InnerDart) -> tuple[Point, ...]:
    return dart.upper, dart.lower, dart.left, dart.right


def _across(point: Point, line: Chain) -> Point:
    """Return where a line passes the level of a point; the point itself where it does not."""
    return min(
        line.meetings(complex(0, point.imag), 1), key=lambda p: abs(p - point), default=point
    )


def _between(point: Point, lines: tuple[Chain, Chain]) -> Point:
    one, other = (_across(point, line) for line in lines)
    return (one + other) / 2


def _stated(cut: Cut, first: Piece, second: Piece) -> Iterator[tuple[str, float]]:
    """Yield what is cut outside each edge: where the parts differ, that of the first."""
    for edge in cut.whole.edges:
        given = [
            dict(p.allowances).get(edge.name) for p in (first, second) if edge.name in p.edge_names
        ]
        found = next((mm for mm in given if mm is not None), None)
        if found is not None:
            yield edge.name, found
