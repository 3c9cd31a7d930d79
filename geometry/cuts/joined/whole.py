"""The piece that two make which are joined along a line: how they lie, and what it has of both."""

from collections.abc import Iterator
from dataclasses import replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, unit
from trueup.geometry.lines.polygons import polyline
from trueup.geometry.marking.on_parts import marks_of_whole
from trueup.geometry.pieces.beyond.marks import is_beyond
from trueup.geometry.pieces.cut import Cut, LineEnd
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.cut_corner import CutCorner
from trueup.geometry.pieces.piece import Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.move_corner import end_carried, start_carried
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT, SEAM

_LEG = 0.3
"""How far along the line a mark of where it met an edge points."""


def merged_edges(
    one: Piece, line: Edge, other: Piece, mate: Edge, *, turned: bool
) -> tuple[str, str]:
    """Return the edges that go on from a piece to the other where a line ends and where it starts.

    Both have them by that name; `turned` says that their outlines run round otherwise. Raises
    DoesNotFit where the lines that meet there are called otherwise.
    """
    before, after = one.neighbours(line.name)
    their_before, their_after = other.neighbours(mate.name)
    met = (their_after, their_before) if turned else (their_before, their_after)
    for own, their in zip((after, before), met, strict=True):
        if own.name != their.name:
            lines = {"line": f"{one.name}.{own.name}", "other": f"{other.name}.{their.name}"}
            raise DoesNotFit(said("lines-not-one", **lines), said("leave-as-is"), edge=line.name)
    if after is before or after.name == before.name:
        raise DoesNotFit(said("line-round-piece", edge=after.name), said("leave-as-is"))
    return after.name, before.name


def placed(line: Edge, mate: Edge, other: str) -> Motion:
    """Return the motion that lays a line on another which runs the other way, middle on middle.

    Raises DoesNotFit where they differ in length, or do not lie on each other.
    """
    longer = mate.length - line.length
    if abs(longer) > SEAM:
        lengths = {"first": line.length, "second": mate.length, "off": abs(longer)}
        reason = said("joined-lengths", other=other, **lengths)
        raise DoesNotFit(reason, said("true-first"), edge=line.name)
    turn = unit(line.end - line.start) / unit(mate.start - mate.end)
    middle = (line.start + line.end) / 2 - turn * (mate.start + mate.end) / 2
    motion = Motion(turn, middle)
    there = polyline([motion(point) for point in mate.outline.flattened()])
    away = polyline(line.outline.flattened()).hausdorff_distance(there)
    if away > SEAM:
        reason = said("joined-curves", other=other, off=float(away))
        raise DoesNotFit(reason, said("straighten-both"), edge=line.name)
    return motion


def whole_of(cut: Cut, first: Piece, second: Piece) -> Piece:
    """Return the piece that two make which lie at each other, interrupted where the line meets it.

    It has the grainline, levels and label of the first, and pleats and vents of its own.
    """
    line = first.edge(cut.line)
    own, theirs = (_beyond(piece, cut.line) for piece in (first, second))
    theirs = _brought(theirs, line)
    begin = _marked(cut.begins, line.outline.reversed())
    end = _marked(cut.ends, line.outline)
    edges = (
        _one(theirs[-1], begin, own[0]),
        *own[1:-1],
        _one(own[-1], end, theirs[0]),
        *theirs[1:-1],
    )
    bare = replace(first, name=cut.whole.name, edges=edges, notches=(), marks=(), corners=())
    whole = replace(
        bare,
        inner_darts=(*first.inner_darts, *second.inner_darts),
        fold=first.fold or second.fold,
        levels=tuple(each for each in first.levels if each.along in (None, *bare.edge_names)),
        allowances=tuple(_stated(bare, first, second)),
        corners=tuple(_corners(bare, first, second)),
        pleats=cut.whole.pleats,
        vents=cut.whole.vents,
    )
    whole = replace(whole, notches=tuple(_notches(cut, whole, first, second)))
    marks = marks_of_whole(whole, first, second)
    return replace(whole, marks=marks) if marks else whole


def _beyond(piece: Piece, line: str) -> list[Edge]:
    """Return the edges of a piece in order, from the end of a line to its start."""
    at = piece.edge_names.index(line)
    return [*piece.edges[at + 1 :], *piece.edges[:at]]


def _brought(edges: list[Edge], line: Edge) -> list[Edge]:
    """Return edges that start and end near the ends of a line as starting and ending there."""
    first, last = edges[0], edges[-1]
    shift = line.start - first.start
    if abs(shift) > SAME_POINT:
        first = start_carried(first, Motion(shift=shift), line.start)
    else:
        first = replace(first, parts=(first.parts[0].starting_at(line.start), *first.parts[1:]))
    shift = line.end - last.end
    if abs(shift) > SAME_POINT:
        last = end_carried(last, Motion(shift=shift), line.end)
    else:
        last = replace(last, parts=(*last.parts[:-1], last.parts[-1].ending_at(line.end)))
    return [first, *edges[1:-1], last]


def _marked(end: LineEnd, line: Chain) -> Dart:
    """Return a dart of no intake where a line begins, aimed along it."""
    return Dart(end.dart, line.point_at(_LEG * line.length))


def _one(before: Edge, dart: Dart, after: Edge) -> Edge:
    """Return two edges as one, with a dart of no intake between them."""
    return Edge(
        before.name,
        before.starts_at,
        after.ends_at,
        (*before.parts, *after.parts),
        (*before.darts, dart, *after.darts),
        before.shaped or after.shaped,
    )


def _stated(whole: Piece, first: Piece, second: Piece) -> Iterator[tuple[str, float]]:
    """Yield what is cut outside each edge: where the two differ, that of the first."""
    stated = {**dict(second.allowances), **dict(first.allowances)}
    yield from ((edge, stated[edge]) for edge in sorted(whole.edge_names) if edge in stated)


def _corners(whole: Piece, first: Piece, second: Piece) -> Iterator[CutCorner]:
    corners = {edge.starts_at for edge in whole.edges}
    yield from (each for part in (first, second) for each in part.corners if each.corner in corners)


def _notches(cut: Cut, whole: Piece, first: Piece, second: Piece) -> Iterator[Notch]:
    """Yield the notches of both, but those on the line; on a line of both from where it starts."""
    beyond = {(cut.begins.edge, first.name): second, (cut.ends.edge, second.name): first}
    for part in (first, second):
        for notch in part.notches:
            if notch.edge == cut.line or is_beyond(part, notch):
                continue
            if notch.edge not in (cut.begins.edge, cut.ends.edge):
                yield notch
                continue
            before = beyond.get((notch.edge, part.name))
            along = notch.at.along(part.edge(notch.edge))
            along += before.edge(notch.edge).length if before else 0.0
            starts = whole.edge(notch.edge).starts_at
            yield replace(notch, at=Position(starts, distance=along))
