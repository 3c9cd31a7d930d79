"""Holes and lines inside a piece of a drawing as marks of it, each from its nearest place."""

from collections.abc import Iterator, Mapping

import shapely
from shapely.geometry import LineString

from trueup.geometry.lines.points import Point, coordinates, dot, unit
from trueup.geometry.marking.places import nearest_edge, seen_from
from trueup.geometry.pieces.marks.mark import AtTip, InnerMark, MarkPlace, Purpose, Runs
from trueup.geometry.pieces.piece import Piece
from trueup.lineage.drawings.seen.found import Inner
from trueup.lineage.drawings.stating.stated import StatedPiece
from trueup.lineage.errors import BadRecord
from trueup.lineage.limits import MOST_EDGES

_NEAR_TIP, _OFF_MIDDLE = 30.0, 3.0
_FINE, _COARSER = 0.02, 2.0


def marks_of(
    piece: Piece, stated: StatedPiece, lines: Mapping[int, object], place: str
) -> tuple[InnerMark, ...]:
    """Return the marks that are stated of a piece; raises BadRecord for one that lies on none.

    A hole on the middle line of a dart near its tip stays with that; all else is measured from the
    nearest edge.
    """
    marks = []
    runs: Runs
    for name, number in (*stated.holes.items(), *stated.lines.items()):
        inner = lines.get(number)
        if not isinstance(inner, Inner):
            reason = f"line {number} lies on no piece inside its outline"
            raise BadRecord(place, reason, field=f"{stated.name}.{name}")
        if name in stated.holes:
            at = inner.middle
            where: MarkPlace = _at_tip(piece, at) or nearest_edge(piece, at, piece.edge_names)
            runs, purpose = ((at,),), Purpose.HOLE
        else:
            run = _drawn(inner)
            where = nearest_edge(piece, run[0], piece.edge_names)
            runs, purpose = (run,), Purpose.PLACEMENT
        marks.append(InnerMark(name, purpose, where, seen_from(piece, where, runs)))
    return tuple(marks)


def _at_tip(piece: Piece, at: Point) -> MarkPlace | None:
    """Return the tip of the dart in whose middle a hole lies near its tip, None where in none."""
    found = [
        (abs(at - tip), place)
        for tip, towards, place in _tips(piece)
        if abs(at - tip) <= _NEAR_TIP
        and dot(at - tip, towards) > 0
        and abs(at - tip - towards * dot(at - tip, towards)) <= _OFF_MIDDLE
    ]
    return min(found, key=lambda each: each[0])[1] if found else None


def _tips(piece: Piece) -> Iterator[tuple[Point, Point, MarkPlace]]:
    """Yield the tips of darts, the direction from each to its mouth, and the place."""
    for edge in piece.edges:
        for mouth in edge.mouths:
            centre = (mouth.first + mouth.second) / 2
            yield mouth.tip, unit(centre - mouth.tip), AtTip(mouth.dart.name)
    for dart in piece.inner_darts:
        centre = (dart.left + dart.right) / 2
        yield dart.upper, unit(centre - dart.upper), AtTip(dart.name)
        yield dart.lower, unit(centre - dart.lower), AtTip(dart.name, lower=True)


def _drawn(inner: Inner) -> tuple[Point, ...]:
    """Return points along a line, as close to it as a mark may have points."""
    line, within = LineString(coordinates(inner.chain.flattened())), _FINE
    while len((thin := line.simplify(within)).coords) > MOST_EDGES:
        within *= _COARSER
    return tuple(complex(x, y) for x, y in shapely.get_coordinates(thin))
