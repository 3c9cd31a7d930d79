"""The outline of a piece in two halves, as a style line divides it."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.pieces.cut import Cut, LineEnd
from trueup.geometry.pieces.dart import Dart
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.said import said


@dataclass(frozen=True)
class _Stretch:
    """A stretch of the outline without a corner in it, and the dart that opens after it."""

    edge: Edge
    line: Chain
    dart: Dart | None


def halves(whole: Piece, cut: Cut) -> tuple[tuple[Edge, ...], tuple[Edge, ...]]:
    """Return the edges of a whole, or what lies of them, in the first part and in the second.

    Raises DoesNotFit where the line no longer meets them.
    """
    for end in (cut.begins, cut.ends):
        if end.dart not in [dart.name for dart in whole.edge(end.edge).darts]:
            reason, possible = said("line-ends-there", line=cut.name), said("change-before-cut")
            raise DoesNotFit(reason, possible, piece=whole.name, edge=end.edge, dart=end.dart)
    ring = [
        _Stretch(edge, line, dart)
        for edge in whole.edges
        for line, dart in zip(edge.parts, (*edge.darts, None), strict=True)
    ]
    begin = _after(ring, cut.begins)
    ring = ring[begin:] + ring[:begin]
    middle = _after(ring, cut.ends)
    return tuple(_edges(ring[:middle], cut)), tuple(_edges(ring[middle:], cut))


def _after(ring: list[_Stretch], end: LineEnd) -> int:
    places = (k for k, s in enumerate(ring) if s.dart is not None and s.dart.name == end.dart)
    return next(k for k in places if ring[k].edge.name == end.edge) + 1


def _edges(half: list[_Stretch], cut: Cut) -> Iterator[Edge]:
    for _, group in groupby(half, key=lambda stretch: stretch.edge.name):
        run = list(group)
        edge = run[0].edge
        corner = f"{cut.line}-{edge.name}"
        starts = edge.starts_at if run[0].line is edge.parts[0] else corner
        ends = edge.ends_at if run[-1].line is edge.parts[-1] else corner
        lines = tuple(stretch.line for stretch in run)
        darts = tuple(stretch.dart for stretch in run[:-1] if stretch.dart)
        whole = (starts, ends) == (edge.starts_at, edge.ends_at)
        yield edge if whole else Edge(edge.name, starts, ends, lines, darts, edge.shaped)
