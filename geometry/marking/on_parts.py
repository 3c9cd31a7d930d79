"""Marks of a piece that was cut in two: each part takes those that lie on it.

A mark keeps its place where the part has it; else it is measured from the nearest line of the part.
A line that runs across the cut is marked on both parts, as far as it lies on each.
"""

from collections.abc import Collection, Iterator
from dataclasses import replace
from itertools import pairwise

from shapely import Polygon
from shapely.geometry import LineString
from shapely.geometry import Point as Spot

from trueup.geometry.lines.points import Point, coordinates
from trueup.geometry.lines.polygons import polygon
from trueup.geometry.marking.places import has_place, nearest_edge, runs_of, seen_from, with_places
from trueup.geometry.pieces.marks.mark import BesideEdge, InnerMark, MarkPlace, OnEdge, Runs
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import SAME_POINT

_ON_IT = 100 * SAME_POINT


def marks_of_part(whole: Piece, part: Piece) -> tuple[InnerMark, ...]:
    """Return the marks of a whole that lie on a part of it, as the part has them."""
    if not whole.marks:
        return ()
    ground = _Ground(whole, part)
    return tuple(own for mark in whole.marks for own in _on_part(whole, part, mark, ground))


def marks_followed(whole: Piece, was: Piece, part: Piece) -> tuple[InnerMark, ...]:
    """Return the marks of a part after a change of its whole; before it, the part `was`.

    What the part has on its own seam stays as it was.
    """
    if not (whole.marks or was.marks):
        return ()
    names = {mark.name for mark in whole.marks}
    own = {
        mark.name: mark
        for mark in was.marks
        if mark.name in names
        and isinstance(mark.place, OnEdge)
        and mark.place.edge not in whole.edge_names
        and has_place(part, mark)
    }
    return tuple(own.pop(mark.name, mark) for mark in part.marks) + tuple(own.values())


def marks_of_whole(whole: Piece, first: Piece, second: Piece) -> tuple[InnerMark, ...]:
    """Return the marks of a whole as its parts are now: its own, and those made on a part since."""
    if not (whole.marks or first.marks or second.marks):
        return ()
    kept = [*with_places(whole).marks]
    names = {mark.name for mark in whole.marks}
    for part in (first, second):
        for mark in part.marks:
            if mark.name not in names and has_place(part, mark):
                kept.append(_placed(whole, mark, runs_of(part, mark), whole.edge_names))
                names.add(mark.name)
    return whole.marks if tuple(kept) == whole.marks else tuple(kept)


def _points(runs: Runs) -> list[Point]:
    return [point for run in runs for point in run]


class _Ground:
    """What lies on a part, and what on the rest of its whole."""

    def __init__(self, whole: Piece, part: Piece) -> None:
        self.own = _sound(part)
        self.rest = _sound(whole).difference(self.own.buffer(_ON_IT))

    def nearer(self, spot: Spot) -> bool:
        """Return whether a place lies on the part, or nearer to it than to the rest."""
        return bool(self.own.distance(spot) <= self.rest.distance(spot) + _ON_IT)

    def lying(self, run: tuple[Point, ...]) -> Iterator[tuple[Point, ...]]:
        """Yield what lies of a run on the part."""
        if len(run) == 1:
            if self.nearer(Spot(run[0].real, run[0].imag)):
                yield run
            return
        line = LineString(coordinates(run))
        for piece in (line.intersection(self.own), line.difference(self.own)):
            for each in getattr(piece, "geoms", [piece]):
                if each.length > _ON_IT and self.nearer(each.interpolate(0.5, normalized=True)):
                    yield tuple(complex(x, y) for x, y in each.coords)


def _sound(piece: Piece) -> Polygon:
    outline = polygon(piece.outline_points)
    return outline if outline.is_valid else outline.buffer(0)


def _on_part(whole: Piece, part: Piece, mark: InnerMark, ground: _Ground) -> Iterator[InnerMark]:
    if mark.dart is not None:
        # What marks a dart goes with it; in a seam there is none any more.
        if has_place(part, mark):
            yield mark
        return
    if not has_place(whole, mark):
        return
    if isinstance(mark.place, BesideEdge):
        if has_place(part, mark):
            yield mark
        return
    runs = runs_of(whole, mark)
    lying = tuple(_joined([each for run in runs for each in ground.lying(run)]))
    if lying:
        all_of_it = _length(lying) > _length(runs) - _ON_IT and len(lying) >= len(runs)
        # Not from the line of the cut, which is the part's own: a mark of the whole follows that.
        yield _placed(part, mark, runs if all_of_it else lying, whole.edge_names)


def _joined(runs: list[tuple[Point, ...]]) -> list[tuple[Point, ...]]:
    """Return runs with those joined that meet end to end: a ring comes back as one."""
    joined: list[tuple[Point, ...]] = []
    for run in runs:
        for k, each in enumerate(joined):
            if len(run) > 1 and abs(each[-1] - run[0]) < _ON_IT:
                joined[k] = (*each, *run[1:])
                break
            if len(run) > 1 and abs(run[-1] - each[0]) < _ON_IT:
                joined[k] = (*run, *each[1:])
                break
        else:
            joined.append(run)
    return joined


def _length(runs: Runs) -> float:
    return sum(abs(b - a) for run in runs for a, b in pairwise(run))


def _placed(piece: Piece, mark: InnerMark, runs: Runs, edges: Collection[str]) -> InnerMark:
    """Return a mark of another piece at its own place, or else from the nearest of some edges."""
    if has_place(piece, mark) and _agrees(piece, mark, runs):
        return mark
    place: MarkPlace = nearest_edge(piece, runs[0][0], edges)
    return replace(mark, place=place, runs=seen_from(piece, place, runs))


def _agrees(piece: Piece, mark: InnerMark, runs: Runs) -> bool:
    here, there = _points(runs_of(piece, mark)), _points(runs)
    return len(here) == len(there) and all(
        abs(a - b) < _ON_IT for a, b in zip(here, there, strict=True)
    )
