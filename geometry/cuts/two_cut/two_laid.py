"""The whole of a piece that is cut along two lines, as its parts lie now."""

from dataclasses import replace

from trueup.geometry.cuts.laying import mouth_between
from trueup.geometry.cuts.two_cut.two_lines import Parting, moved
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.cut import Cut
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.move_corner import meeting
from trueup.geometry.tolerance import SAME_LENGTH, SAME_POINT

_PLACES = 16
"""Two lines are held to run alike that do at so many places, and are as long."""


def whole_of_two(cut: Cut, beyond: Piece, between: Piece) -> Piece:
    """Return the whole as the part beyond its two lines and the one between them are now.

    What neither changed since it was cut stays as the whole has it.
    """
    parting = Parting(cut, cut.whole)
    upper, lower, begins = cut.begins.edge, cut.ends.edge, cut.beside
    front, back = (motion.inverse() for motion in parting.motions)
    above = (
        _stretch(beyond, begins[0], parting.beyond[0], parting.upper[0], front),
        _own(between, upper, parting.upper[1]),
        _stretch(beyond, begins[1], parting.beyond[1], parting.upper[2], back),
    )
    foot = beyond.edge(lower)
    if _alike(foot, parting.beyond[2]):
        ends = parting.lower[2], parting.lower[0]
    else:
        first, last = _in_two(foot, beyond.edge(begins[0]).start)
        ends = moved(first, front), moved(last, back)
    below = (ends[1], _own(between, lower, parting.lower[1]), ends[0])
    edges = {
        upper: _joined(cut.whole.edge(upper), above, _mouths_above(parting, beyond, between)),
        lower: _joined(cut.whole.edge(lower), below, _mouths_below(parting, beyond, between)),
    }
    one, other = parting.seams
    edges[one.name] = _drawn_to(one, below[2].end, above[0].start)
    edges[other.name] = _drawn_to(other, above[2].end, below[0].start)
    stated = {**dict(cut.whole.allowances)}
    for name in (upper, lower):
        if name in dict(between.allowances):
            stated[name] = between.allowance(name)
    ring = _closed(tuple(edges[edge.name] for edge in cut.whole.edges))
    laid = replace(cut.whole, edges=ring, allowances=tuple(stated.items()))
    return cut.whole if laid == cut.whole else laid


def _alike(edge: Edge, other: Edge) -> bool:
    """Return whether two edges run alike but for noise, of however many curves each is drawn."""
    return len(edge.parts) == len(other.parts) and all(
        abs(one.length - two.length) < SAME_POINT
        and all(
            abs(one.point_at(at) - two.point_at(at)) < SAME_POINT
            for at in (one.length * k / _PLACES for k in range(_PLACES + 1))
        )
        for one, two in zip(edge.parts, other.parts, strict=True)
    )


def _own(part: Piece, name: str, was: Edge) -> Edge:
    edge = part.edge(name)
    return was if _alike(edge, was) else edge


def _stretch(part: Piece, name: str, laid: Edge, was: Edge, back: Motion) -> Edge:
    """Return a stretch of the whole: as it was, or as the part has it now, moved back."""
    edge = part.edge(name)
    return was if _alike(edge, laid) else moved(edge, back)


def _in_two(edge: Edge, top: Point) -> tuple[Edge, Edge]:
    """Return an edge before and after the place straight below a point; half way if there is none.

    There the seam meets it that the part had, which runs straight down.
    """
    k, at = len(edge.parts) // 2, edge.parts[len(edge.parts) // 2].length / 2
    for index, part in enumerate(edge.parts):
        for length in part.crossings(top, 1j)[:1]:
            if SAME_LENGTH < length < part.length - SAME_LENGTH:
                k, at = index, length
    one, two = edge.parts[k].split_at(at)
    return (
        replace(edge, parts=(*edge.parts[:k], one), darts=edge.darts[:k]),
        replace(edge, parts=(two, *edge.parts[k + 1 :]), darts=edge.darts[k:]),
    )


def _joined(
    was: Edge, stretches: tuple[Edge, Edge, Edge], lines: tuple[tuple[Chain, Chain], ...]
) -> Edge:
    """Return an edge of the whole of three stretches, darts of no intake between them."""
    names = {dart.name for stretch in stretches for dart in stretch.darts}
    own = [dart for dart in was.darts if dart.name not in names]
    darts: list[Dart] = [*stretches[0].darts]
    for dart, (before, after), stretch in zip(own, lines, stretches[1:], strict=True):
        darts += [mouth_between(dart, before, after), *stretch.darts]
    parts = tuple(part for stretch in stretches for part in stretch.parts)
    return replace(was, parts=parts, darts=tuple(darts))


def _lines(parting: Parting, beyond: Piece, between: Piece) -> tuple[Chain, Chain, Chain, Chain]:
    """Return the lines from above to below: front beyond and between, back between and beyond."""
    one, other = parting.front_line.line, parting.cut.line
    front, back = (motion.inverse() for motion in parting.motions)
    return (
        closed(beyond.edge(one)).chain.moved(front),
        closed(between.edge(one)).chain.reversed(),
        closed(between.edge(other)).chain,
        closed(beyond.edge(other)).chain.reversed().moved(back),
    )


def _mouths_above(
    parting: Parting, beyond: Piece, between: Piece
) -> tuple[tuple[Chain, Chain], ...]:
    lines = _lines(parting, beyond, between)
    return (lines[0], lines[1]), (lines[2], lines[3])


def _mouths_below(
    parting: Parting, beyond: Piece, between: Piece
) -> tuple[tuple[Chain, Chain], ...]:
    lines = [line.reversed() for line in _lines(parting, beyond, between)]
    return (lines[3], lines[2]), (lines[1], lines[0])


def _drawn_to(seam: Edge, start: complex, end: complex) -> Edge:
    """Return the seam that is none any more between the places where the parts end now."""
    if max(abs(seam.start - start), abs(seam.end - end)) < SAME_POINT:
        return meeting(seam, start, end)
    return replace(seam, parts=(seam.parts[0].fitted_between(start, end),))


def _closed(ring: tuple[Edge, ...]) -> tuple[Edge, ...]:
    return tuple(
        meeting(edge, start=ring[k - 1].end) if edge.start != ring[k - 1].end else edge
        for k, edge in enumerate(ring)
    )
