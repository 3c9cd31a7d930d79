"""Cut a piece in two along a style line: straight across it, or along the darts it runs through."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise

from trueup.geometry.cuts.following import parts_of, require_all_darts
from trueup.geometry.cuts.laying import AT_APEX
from trueup.geometry.cuts.pleated import with_pleats
from trueup.geometry.cuts.sewing import in_parts, own_joins, own_seam
from trueup.geometry.errors import DoesNotFit, NoSuchName
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point, dot
from trueup.geometry.pieces.closed_line import smoothed_at
from trueup.geometry.pieces.cut import Cut, LineEnd
from trueup.geometry.pieces.dart import Dart, InnerDart, Mouth
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.tolerance import LENGTH_ERROR, SAME_LENGTH, SAME_POINT, SHORTEST_LEFT

_LEG_SHARE = 0.3
_FARTHEST = 6


@dataclass(frozen=True)
class StyleLine:
    """Where a line is to run: from a place on one edge, through darts in this order, to another.

    A place is left out where the first or the last of the darts opens on that edge: there the line
    runs along its legs.
    """

    name: str
    begins: str
    ends: str
    at: Position | None = None
    ends_at: Position | None = None
    through: tuple[str, ...] = ()
    rounded: float = 0.0
    """How far to either side of a place where it turns the line is drawn fair, mm."""


def cut_in_two(
    piece: Piece, line: StyleLine, drawing: Callable[[Point, Point], Chain] | None = None
) -> tuple[Cut, tuple[Piece, Piece]]:
    """Return a piece cut in two along a line, and its parts, called first and second (see `Cut`).

    A line that runs through no dart may be drawn otherwise than straight: `drawing` returns it for
    the places at which it begins and ends. Raises NoSuchName, BadPosition, DoesNotFit.
    """
    for vent in piece.vents:
        raise DoesNotFit(said("is-vented", vent=vent.name), said("cut-before-vent"))
    if line.begins == line.ends:
        raise DoesNotFit(said("line-on-one-edge"), said("two-edges"), edge=line.begins)
    opened, begins = _opened(piece, line.begins, line, line.at, line.through[:1])
    opened, ends = _opened(opened, line.ends, line, line.ends_at, line.through[-1:])
    inner = [_inner(opened, name) for name in line.through if name not in (begins.dart, ends.dart)]
    mouths = opened.mouth(begins.dart), opened.mouth(ends.dart)
    opened, mouths = _aimed(
        opened, mouths, [point for dart in inner for point in _tips(dart, mouths)]
    )
    taken_in = {dart.name for dart in inner}
    cut = Cut(line.name, opened, ("first", "second"), begins, ends, piece.worn)
    if drawing:
        alike = drawing(mouths[0].first, mouths[1].first)
        drawn = alike, alike
    else:
        drawn = _rounded_alike(_lines(opened, mouths, inner), line.rounded)
    parts = parts_of(cut, drawn, _turns(line, mouths, inner, drawn[0]))
    for part in parts:
        if not part.is_simple:
            raise DoesNotFit(said("line-crosses"), said("another-line"), edge=line.begins)
    require_all_darts(opened, parts, taken_in)
    return cut, with_pleats(opened, parts, line.name) if piece.pleats else parts


def with_cut(draft: Draft, cut: Cut, parts: tuple[Piece, Piece], names: tuple[str, str]) -> Draft:
    """Return a draft with a piece of it in two parts, by these names."""
    cut = replace(cut, parts=names)
    first, second = (replace(part, name=name) for part, name in zip(parts, names, strict=True))
    whole = draft.with_pieces(cut.whole)
    return in_parts(whole, cut, (first, second), [own_seam(cut)], own_joins(cut))


def _opened(
    piece: Piece, name: str, line: StyleLine, at: Position | None, darts: Sequence[str]
) -> tuple[Piece, LineEnd]:
    """Return the piece with a dart on an edge where a line meets it, and which that is."""
    edge = piece.edge(name)
    there = [dart.name for dart in edge.darts if dart.name in darts]
    if there:
        if at is not None:
            raise DoesNotFit(
                said("dart-says-where", dart=there[0]), said("leave-out-place"), edge=name
            )
        setback = piece.mouth(there[0]).dart.setback
        return _sewn_to_apex(piece, there[0]), LineEnd(name, there[0], setback)
    if at is None:
        raise DoesNotFit(said("where-on-edge"), said("give-line-place"), edge=name)
    dart = f"{line.name}-{name}"
    return piece.with_edges(with_cut_at(edge, dart, at.along(edge))), LineEnd(name, dart)


def _sewn_to_apex(piece: Piece, name: str) -> Piece:
    """Return the piece with a dart sewn as the line is: all the way to where it turns."""
    return piece.with_dart(replace(piece.mouth(name).dart, setback=AT_APEX))


def with_cut_at(edge: Edge, name: str, along: float) -> Edge:
    """Return an edge with a dart of no intake at a sewn length from its start, mm."""
    done = 0.0
    for index, part in enumerate(edge.parts):
        here = along - done
        if SHORTEST_LEFT < here < part.length - SHORTEST_LEFT:
            before, after = part.split_at(here)
            # Its apex is found when the line is known.
            dart = Dart(name, before.end)
            parts = (*edge.parts[:index], before, after, *edge.parts[index + 1 :])
            return replace(
                edge, parts=parts, darts=(*edge.darts[:index], dart, *edge.darts[index:])
            )
        done += part.length
    raise DoesNotFit(
        said("line-near-end", left=SHORTEST_LEFT), said("another-place"), edge=edge.name
    )


def _inner(piece: Piece, name: str) -> InnerDart:
    for dart in piece.inner_darts:
        if dart.name == name:
            return dart
    raise NoSuchName("dart", name, piece.name, piece.dart_names)


def _middle(mouth: Mouth) -> Point:
    return (mouth.first + mouth.second) / 2


def _tips(dart: InnerDart, mouths: tuple[Mouth, Mouth]) -> tuple[Point, Point]:
    """Return the two tips of a dart, that which the line comes to first before the other."""
    way = _middle(mouths[1]) - _middle(mouths[0])
    upper, lower = dart.upper, dart.lower
    return (upper, lower) if dot(lower - upper, way) > 0 else (lower, upper)


def _aimed(
    piece: Piece, mouths: tuple[Mouth, Mouth], between: Sequence[Point]
) -> tuple[Piece, tuple[Mouth, Mouth]]:
    """Return the piece with the darts of no intake aimed along the line, and both mouths."""
    begin, end = mouths
    first = between[0] if between else _turning_point(end) or _middle(end)
    last = between[-1] if between else _turning_point(begin) or _middle(begin)
    for mouth, towards in ((begin, first), (end, last)):
        if _turning_point(mouth) is None:
            apex = mouth.first + _LEG_SHARE * (towards - mouth.first)
            piece = piece.with_dart(replace(mouth.dart, apex=apex))
    return piece, (piece.mouth(begin.dart.name), piece.mouth(end.dart.name))


def _turning_point(mouth: Mouth) -> Point | None:
    """Return the apex of a dart that takes something in, None for one of no intake."""
    return mouth.dart.apex if mouth.intake > SAME_POINT else None


def _lines(
    piece: Piece, mouths: tuple[Mouth, Mouth], inner: Sequence[InnerDart]
) -> tuple[Chain, Chain]:
    """Return the line as the first part has it, and as the second has it, from begin to end."""
    begin, end = mouths
    # Along the line, the first part lies on the side away from the cloth that its outline encloses.
    towards_first = (_middle(end) - _middle(begin)) * -piece.inward
    first, second = [begin.second], [begin.first]
    points = [_turning_point(begin)]
    for dart in inner:
        near, far = _tips(dart, mouths)
        ordered = sorted((dart.left, dart.right), key=lambda p: dot(p - near, towards_first))
        first += [*_there(points), near, ordered[1], far]
        second += [*_there(points), near, ordered[0], far]
        points = []
    points.append(_turning_point(end))
    first += [*_there(points), end.first]
    second += [*_there(points), end.second]
    return Chain.line(*_apart(first)), Chain.line(*_apart(second))


def _turns(
    line: StyleLine, mouths: tuple[Mouth, Mouth], inner: Sequence[InnerDart], drawn: Chain
) -> dict[str, Point]:
    """Return the points at which a line turns, by names of the darts; its middle if it does not."""
    found: dict[str, Point] = {}
    for mouth in mouths:
        apex = _turning_point(mouth)
        if apex is not None and not any(abs(apex - each) < SAME_POINT for each in found.values()):
            found[mouth.dart.name] = apex
    for dart in inner:
        found[dart.name] = (dart.left + dart.right) / 2
    return found or {line.name: drawn.point_at(drawn.length / 2)}


def _rounded_alike(lines: tuple[Chain, Chain], reach: float) -> tuple[Chain, Chain]:
    """Return two lines with their corners drawn fair so that both grow shorter by as much.

    That which turns less loses less over the same reach: it is drawn fair further out, as far as it
    goes.
    """
    first, second = (_rounded(line, reach) for line in lines)
    lost = lines[0].length - first.length, lines[1].length - second.length
    if abs(lost[0] - lost[1]) < LENGTH_ERROR:
        return first, second
    if lost[0] < lost[1]:
        return _as_short(lines[0], second.length, reach), second
    return first, _as_short(lines[1], first.length, reach)


def _as_short(line: Chain, length: float, reach: float) -> Chain:
    """Return a line rounded to a length, mm; as short as it can be where it stays longer."""
    most = _FARTHEST * reach

    def longer(by: float) -> float:
        return _rounded(line, by).length - length

    found = root_between(longer, reach, most, SAME_LENGTH)
    return _rounded(line, most if found is None else found)


def _rounded(line: Chain, reach: float) -> Chain:
    """Return a line of straight stretches with the corners between them drawn fair."""
    if reach < SAME_POINT:
        return line
    ends = [0.0, *accumulate(cubic.length for cubic in line.cubics)]
    for before, at, after in reversed([*zip(ends, ends[1:], ends[2:], strict=False)]):
        line = smoothed_at(line, at, min(reach, (at - before) / 2, (after - at) / 2))
    return line


def _there(points: Sequence[Point | None]) -> list[Point]:
    return [point for point in points if point is not None]


def _apart(points: Sequence[Point]) -> list[Point]:
    """Return points without those that repeat the one before."""
    found = list(points[:1])
    found += [now for before, now in pairwise(points) if abs(now - before) > SAME_POINT]
    return found
