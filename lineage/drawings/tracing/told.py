"""A drawing that describes its own pieces: what was not redrawn is taken exactly as described.

A path holds rounded numbers, the description all digits. So where a path lies as described, the
description stands; where someone has redrawn it, the path does. A piece may be moved about the
page as a whole. Notches, marks, levels, seams and allowances are always as described.
"""

from collections.abc import Mapping
from dataclasses import replace
from statistics import median

from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point, unit
from trueup.geometry.pieces.dart import InnerDart, Mouth
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Piece
from trueup.geometry.said import said
from trueup.geometry.tolerance import DRAWN_TOGETHER, SHAPE_GRID
from trueup.lineage.drawings.tracing.names import Name, What
from trueup.lineage.drawings.tracing.page import Drawn
from trueup.lineage.drawings.tracing.ring import dart_points
from trueup.lineage.errors import BadRecord

_SAME = SHAPE_GRID


def redrawn(piece: Piece, lines: Mapping[Name, Drawn], place: str) -> Piece:
    """Return a piece as described, with what its lines in the drawing say otherwise.

    Raises BadRecord for a line that is not there or that no longer meets its neighbours.
    """
    chains: list[list[Chain]] = []
    for edge in piece.edges:
        numbers = range(1, len(edge.parts) + 1) if edge.darts else [0]
        names = [Name(piece.name, What.EDGE, edge.name, number) for number in numbers]
        chains.append([_run(name, lines, place) for name in names])
    described = [part for edge in piece.edges for part in edge.parts]
    motion = _moved(piece, described, [chain for parts in chains for chain in parts], place)
    drawn = [
        [_kept(edge.parts[k], parts[k].moved(motion)) for k in range(len(parts))]
        for edge, parts in zip(piece.edges, chains, strict=True)
    ]
    edges = [
        edge
        if all(a is b for a, b in zip(edge.parts, parts, strict=True))
        else replace(edge, parts=tuple(parts))
        for edge, parts in zip(piece.edges, drawn, strict=True)
    ]
    edges = _cornered(piece, edges, place)
    edges = [_with_darts(piece, edge, lines, motion, place) for edge in edges]
    inner = tuple(_inner(piece, dart, lines, motion, place) for dart in piece.inner_darts)
    grainline = _grainline(piece, lines, motion)
    found = replace(piece, edges=tuple(edges), inner_darts=inner, grainline=grainline)
    return piece if found == piece else found


def _run(name: Name, lines: Mapping[Name, Drawn], place: str) -> Chain:
    line = lines.get(name)
    says = f"{name.piece}.{name.word}{f'.{name.part}' if name.part else ''}"
    if line is None:
        raise BadRecord(place, "its line is not in the drawing, or has lost its id", field=says)
    if len(line.runs) != 1 or line.is_closed:
        raise BadRecord(place, "it is not one line from a corner to the next", field=says)
    return line.runs[0]


def _moved(piece: Piece, described: list[Chain], drawn: list[Chain], place: str) -> Motion:
    """Return the motion that takes a piece from the page to where it was described.

    It is the shift that most points agree on, so that redrawing some of them does not matter.
    """
    shifts = [
        there - here
        for a, b in zip(drawn, described, strict=True)
        if len(a.cubics) == len(b.cubics)
        for here, there in zip(_points(a), _points(b), strict=True)
    ]
    if not shifts:
        raise BadRecord(
            place,
            "none of its lines is as it was described; take the description out of the file",
            field=piece.name,
        )
    return Motion(shift=complex(median(s.real for s in shifts), median(s.imag for s in shifts)))


def _points(chain: Chain) -> list[Point]:
    return [point for cubic in chain.cubics for point in cubic]


def _kept(described: Chain, drawn: Chain) -> Chain:
    if len(described.cubics) != len(drawn.cubics):
        return drawn
    pairs = zip(_points(described), _points(drawn), strict=True)
    return described if all(abs(a - b) <= _SAME for a, b in pairs) else drawn


def _cornered(piece: Piece, edges: list[Edge], place: str) -> list[Edge]:
    """Return edges that meet exactly: what was redrawn is put onto the corner of what was not."""
    for index, old in enumerate(piece.edges):
        here = (index + 1) % len(edges)
        before, after = edges[index], edges[here]
        if before.end == after.start:
            continue
        gap = abs(before.end - after.start)
        if gap > DRAWN_TOGETHER:
            raise BadRecord(
                place,
                said("ends-off", gap=gap, edge=after.name),
                field=f"{piece.name}.{old.name}",
            )
        if after is piece.edges[here]:
            last = before.parts[-1].ending_at(after.start)
            edges[index] = replace(before, parts=(*before.parts[:-1], last))
        else:
            first = after.parts[0].starting_at(before.end)
            edges[here] = replace(after, parts=(first, *after.parts[1:]))
    return edges


def _with_darts(
    piece: Piece, edge: Edge, lines: Mapping[Name, Drawn], motion: Motion, place: str
) -> Edge:
    darts = list(edge.darts)
    for index, mouth in enumerate(edge.mouths):
        name = Name(piece.name, What.DART, mouth.dart.name)
        if name in lines:
            first, tip, second = (motion(p) for p in dart_points(name, lines[name], 2, place))
            off = max(abs(first - mouth.first), abs(second - mouth.second))
            if off > DRAWN_TOGETHER:
                raise BadRecord(
                    place,
                    said("ends-off-mouth", gap=off, edge=edge.name),
                    field=f"{piece.name}.dart.{mouth.dart.name}",
                )
            was = piece.mouth(mouth.dart.name).tip
            if abs(tip - was) > _SAME:
                darts[index] = replace(mouth.dart, apex=_apex(mouth, tip))
    return edge if tuple(darts) == edge.darts else replace(edge, darts=tuple(darts))


def _apex(mouth: Mouth, tip: Point) -> Point:
    """Return the apex that a dart sewn to this tip aims at: as far beyond it as before."""
    middle = (mouth.first + mouth.second) / 2
    return tip + unit(tip - middle) * mouth.dart.setback if tip != middle else tip


def _inner(
    piece: Piece, dart: InnerDart, lines: Mapping[Name, Drawn], motion: Motion, place: str
) -> InnerDart:
    name = Name(piece.name, What.DART, dart.name)
    if name not in lines:
        return dart
    upper, right, lower, left, _ = (
        motion(point) for point in dart_points(name, lines[name], 4, place)
    )
    drawn = InnerDart(dart.name, upper, lower, left, right)
    pairs = zip(
        (upper, right, lower, left), (dart.upper, dart.right, dart.lower, dart.left), strict=True
    )
    return dart if all(abs(a - b) <= _SAME for a, b in pairs) else drawn


def _grainline(piece: Piece, lines: Mapping[Name, Drawn], motion: Motion) -> Grainline | None:
    line = lines.get(Name(piece.name, What.GRAINLINE, "grainline"))
    if line is None:
        return piece.grainline
    start, end = motion(line.runs[0].start), motion(line.runs[0].end)
    was = piece.grainline
    if was and abs(start - was.start) <= _SAME and abs(end - was.end) <= _SAME:
        return was
    return Grainline(start, end)
