"""Darts that are drawn into the outline of an edge as lines of it: a V whose legs are alike."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from trueup.geometry.errors import NoSuchName
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Point, cross, unit
from trueup.geometry.pieces.dart import Dart, are_legs
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece

_SHORTEST_LEG = 5.0
_STRAIGHT_ON = 1e-6


@dataclass(frozen=True)
class OutlinedDart:
    """A V in a part of an edge: its legs are some of the part's curves, from `first` up to `last`.

    `begins` and `ends` are lengths along the edge as it is drawn, mm.
    """

    part: int
    first: int
    last: int
    corners: tuple[Point, Point, Point]
    begins: float
    ends: float


def darts_outlined(piece: Piece, edge: Edge) -> tuple[OutlinedDart, ...]:
    """Return the darts that an edge draws as lines of its own, in its order."""
    return tuple(_found(piece, edge))


def _found(piece: Piece, edge: Edge) -> Iterator[OutlinedDart]:
    done = 0.0
    for index, part in enumerate(edge.parts):
        legs = list(_straight_runs(part.cubics))
        for one, other in pairwise(legs):
            if one[0] == 0 or other[1] == len(part.cubics):
                continue  # of a dart at its corner an edge has only one side
            corners = (part.cubics[one[0]].start, part.cubics[other[0]].start,
                       part.cubics[other[1] - 1].end)  # fmt: skip
            if one[1] == other[0] and _is_dart(corners, piece.inward):
                before = sum(cubic.length for cubic in part.cubics[: one[0]])
                long = abs(corners[1] - corners[0]) + abs(corners[2] - corners[1])
                begins = done + before
                yield OutlinedDart(index, one[0], other[1], corners, begins, begins + long)
        done += part.length


def _straight_runs(cubics: tuple[Cubic, ...]) -> Iterator[tuple[int, int]]:
    """Yield where straight lines lie among curves: each from one curve up to another."""
    at = 0
    while at < len(cubics):
        end = at + 1
        if cubics[at].is_straight:
            way = unit(cubics[at].end - cubics[at].start)
            while end < len(cubics) and _goes_on(cubics[end], way):
                end += 1
            yield at, end
        at = end


def _goes_on(cubic: Cubic, way: complex) -> bool:
    on = unit(cubic.end - cubic.start)
    return cubic.is_straight and abs(on - way) < _STRAIGHT_ON


def _is_dart(corners: tuple[Point, Point, Point], inward: complex) -> bool:
    first, tip, second = corners
    into_cloth = cross(second - first, tip - first) * inward.imag > 0
    return into_cloth and are_legs(first, tip, second, _SHORTEST_LEG)


def as_dart(edge: Edge, found: OutlinedDart, name: str, setback: float) -> Edge:
    """Return an edge on which a V opens as a dart, its tip so far short of what it aims at, mm."""
    part = edge.parts[found.part]
    halves = (Chain(part.cubics[: found.first]), Chain(part.cubics[found.last :]))
    first, tip, second = found.corners
    aim = unit(tip - (first + second) / 2)
    dart = Dart(name, tip + aim * setback, setback)
    return replace(
        edge,
        parts=(*edge.parts[: found.part], *halves, *edge.parts[found.part + 1 :]),
        darts=(*edge.darts[: found.part], dart, *edge.darts[found.part :]),
    )


def as_lines(edge: Edge, name: str) -> Edge:
    """Return an edge with the legs of a dart as lines of its own: what was none was stated so.

    Raises NoSuchName where it has no such dart.
    """
    names = tuple(dart.name for dart in edge.darts)
    if name not in names:
        raise NoSuchName("dart", name, edge.name, names)
    at = names.index(name)
    mouth = edge.mouths[at]
    legs = Chain.line(mouth.first, mouth.tip, mouth.second)
    joined = Chain.joining([edge.parts[at], legs, edge.parts[at + 1]])
    return replace(
        edge,
        parts=(*edge.parts[:at], joined, *edge.parts[at + 2 :]),
        darts=(*edge.darts[:at], *edge.darts[at + 1 :]),
    )
