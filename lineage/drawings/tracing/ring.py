"""From the named lines of a drawing made elsewhere to a piece: laid end to end, as they meet.

Lines may be drawn in any order and either way round. Where more than one could follow, or none
meets, nothing is guessed: the drawing is refused with the place.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from shapely.geometry import LineString
from shapely.geometry import Point as Place

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point, coordinates
from trueup.geometry.pieces.dart import Dart, InnerDart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.tolerance import DRAWN_TOGETHER
from trueup.lineage.drawings.tracing.names import Name, What
from trueup.lineage.drawings.tracing.page import Drawn
from trueup.lineage.errors import BadRecord
from trueup.lineage.limits import MOST_EDGES

_BODICE = {
    "neck": ("neck-centre", "neck-point"),
    "shoulder": ("neck-point", "shoulder-point"),
    "armhole": ("shoulder-point", "underarm"),
    "side": ("underarm", "hem-side"),
    "hem": ("hem-side", "hem-centre"),
    "centre": ("hem-centre", "neck-centre"),
}
_SLEEVE = {
    "cap": ("front-underarm", "back-underarm"),
    "back-seam": ("back-underarm", "hem-back"),
    "hem": ("hem-back", "hem-front"),
    "front-seam": ("hem-front", "front-underarm"),
}
_SKIRT = {
    "waist": ("waist-centre", "waist-side"),
    "side": ("waist-side", "hem-side"),
    "hem": ("hem-side", "hem-centre"),
    "centre": ("hem-centre", "waist-centre"),
}
_TROUSER = {
    "waist": ("waist-centre", "waist-side"),
    "side": ("waist-side", "hem-side"),
    "hem": ("hem-side", "hem-inseam"),
    "inseam": ("hem-inseam", "fork"),
    "crotch": ("fork", "waist-centre"),
}


@dataclass(frozen=True)
class _Run:
    """One line on the way round a piece, in the direction it is walked."""

    name: Name
    chain: Chain


def piece_of(piece: str, lines: Mapping[Name, Drawn], place: str) -> Piece:
    """Return the piece that named lines make, in the frame of the page; raises BadRecord."""
    runs, inner = [], []
    for name, line in lines.items():
        if name.what is What.DART and line.is_closed:
            inner.append(_inner_dart(name, line, place))
        elif name.what in (What.EDGE, What.DART):
            runs.append(_Run(name, _one_run(name, line, place)))
    edges = _named_corners(_edges(piece, _walked(piece, runs, place), place))
    notches = tuple(
        _notch(name, line.runs[0].start, edges, place)
        for name, line in lines.items()
        if name.what is What.NOTCH
    )
    grain = [line.runs[0] for name, line in lines.items() if name.what is What.GRAINLINE]
    grainline = Grainline(grain[0].start, grain[0].end) if grain else None
    return Piece(piece, edges, tuple(inner), notches, grainline)


def dart_points(name: Name, line: Drawn, count: int, place: str) -> list[Point]:
    """Return the corners of a dart's line; raises BadRecord where it has not so many."""
    cubics = [cubic for run in line.runs for cubic in run.cubics]
    if len(line.runs) != 1 or len(cubics) != count or not all(c.is_straight for c in cubics):
        shape = "four lines all round" if count == 4 else "two lines, from the edge to the tip"
        raise BadRecord(place, f"it is not the {shape} of a dart", field=_says(name))
    return [*(cubic.start for cubic in cubics), cubics[-1].end]


def _one_run(name: Name, line: Drawn, place: str) -> Chain:
    if len(line.runs) != 1 or line.is_closed:
        raise BadRecord(place, "it is not one line from a corner to the next", field=_says(name))
    if name.what is What.DART:
        dart_points(name, line, 2, place)
    return line.runs[0]


def _inner_dart(name: Name, line: Drawn, place: str) -> InnerDart:
    points = sorted(dart_points(name, line, 4, place)[:4], key=lambda p: (p.imag, p.real))
    left, right = sorted(points[1:3], key=lambda p: p.real)
    return InnerDart(name.word, points[0], points[3], left, right)


def _walked(piece: str, runs: Sequence[_Run], place: str) -> list[_Run]:
    """Return the lines in the order and direction in which they follow one another, once round."""
    if len(runs) > MOST_EDGES:
        raise BadRecord(place, f"it has more than {MOST_EDGES} lines", field=piece)
    waiting = sorted(runs, key=lambda run: run.name.what is not What.EDGE)
    if len(waiting) < 2 or waiting[0].name.what is not What.EDGE:
        raise BadRecord(place, "it has fewer than two edges, which go round no cloth", field=piece)
    way = [waiting.pop(0)]
    while waiting:
        end = way[-1].chain.end
        near = [
            (run, start)
            for run in waiting
            for start in (run.chain.start, run.chain.end)
            if abs(start - end) <= DRAWN_TOGETHER
        ]
        if len(near) != 1:
            problem = said("no-line-follows" if not near else "many-follow", x=end.real, y=end.imag)
            raise BadRecord(place, problem, field=_says(way[-1].name))
        ((run, start),) = near
        waiting.remove(run)
        turned = run.chain if start == run.chain.start else run.chain.reversed()
        way.append(_Run(run.name, turned.starting_at(end)))
    if abs(way[-1].chain.end - way[0].chain.start) > DRAWN_TOGETHER:
        raise BadRecord(place, "its edges do not come round to their start", field=piece)
    way[-1] = replace(way[-1], chain=way[-1].chain.ending_at(way[0].chain.start))
    return way


def _edges(piece: str, way: list[_Run], place: str) -> list[Edge]:
    """Return the edges of a piece, the parts and darts of each together."""
    start = next(
        (
            index
            for index, run in enumerate(way)
            if run.name.what is What.EDGE
            and way[index - 1].name.what is What.EDGE
            and way[index - 1].name.word != run.name.word
        ),
        None,
    )
    if start is None:
        raise BadRecord(place, "no two of its edges meet in a corner", field=piece)
    groups: list[list[_Run]] = []
    for run in (*way[start:], *way[:start]):
        fresh = not groups or (
            run.name.what is What.EDGE
            and groups[-1][-1].name.what is What.EDGE
            and groups[-1][0].name.word != run.name.word
        )
        if fresh:
            groups.append([])
        groups[-1].append(run)
    return [_edge(group, place) for group in groups]


def _edge(group: list[_Run], place: str) -> Edge:
    parts = [run for run in group if run.name.what is What.EDGE]
    darts = [run for run in group if run.name.what is What.DART]
    between = [run.name.what for run in group[1::2]]
    if {part.name.word for part in parts} != {parts[0].name.word}:
        dart = _says(darts[0].name)
        raise BadRecord(place, "it does not open on one edge, between two parts of it", field=dart)
    if len(parts) != len(darts) + 1 or any(what is not What.DART for what in between):
        raise BadRecord(
            place, "its parts do not lie with one dart between each two", field=_says(parts[0].name)
        )
    tips = [run.chain.cubics[0].end for run in darts]
    return Edge(
        parts[0].name.word,
        "",
        "",
        tuple(part.chain for part in parts),
        tuple(Dart(run.name.word, tip) for run, tip in zip(darts, tips, strict=True)),
    )


def _named_corners(edges: list[Edge]) -> tuple[Edge, ...]:
    """Return edges with their corners named and in ring order: the trade's where it has names."""
    for known in (_BODICE, _SLEEVE, _SKIRT, _TROUSER):
        for ring in (edges, [_reversed(edge) for edge in reversed(edges)]):
            names = [edge.name for edge in ring]
            if names and set(names) == set(known):
                first = names.index(next(iter(known)))
                turned = [*ring[first:], *ring[:first]]
                if [edge.name for edge in turned] == list(known):
                    return tuple(
                        replace(e, starts_at=known[e.name][0], ends_at=known[e.name][1])
                        for e in turned
                    )
    corners = [f"{b.name}-{a.name}" for b, a in zip((edges[-1], *edges[:-1]), edges, strict=True)]
    return tuple(
        replace(edge, starts_at=start, ends_at=end)
        for edge, start, end in zip(edges, corners, (*corners[1:], corners[0]), strict=True)
    )


def _reversed(edge: Edge) -> Edge:
    parts = tuple(part.reversed() for part in reversed(edge.parts))
    return replace(edge, parts=parts, darts=edge.darts[::-1])


def _notch(name: Name, at: Point, edges: Sequence[Edge], place: str) -> Notch:
    """Return a notch, by its distance from the start of the edge it lies on."""
    on: list[tuple[float, float, Edge]] = []
    place_of = Place(at.real, at.imag)
    for edge in edges:
        before = 0.0
        for part in edge.parts:
            away = LineString(coordinates(part.flattened())).distance(place_of)
            if away <= DRAWN_TOGETHER:
                along = part.nearest(at)
                away = abs(part.point_at(along) - at)
                on.append((away, before + along, edge))
            else:
                on.append((away, before, edge))
            before += part.length
    away, along, edge = min(on, key=lambda found: found[0])
    if away > DRAWN_TOGETHER:
        raise BadRecord(place, said("starts-off", away=away), field=_says(name))
    return Notch(name.word, edge.name, Position(edge.starts_at, distance=along))


def _says(name: Name) -> str:
    words = {What.EDGE: f".{name.word}", What.GRAINLINE: ".grainline"}
    tail = words.get(name.what, f".{name.what.value}.{name.word}")
    return f"{name.piece}{tail}{f'.{name.part}' if name.part else ''}"
