"""Which marks lie beyond the end of their line: it became too short for the place they are kept by.

Such a mark is kept as it was said, is found by `check`, and lies on its line again once that is
long enough; until then it is drawn nowhere.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import InnerMark, OnEdge
from trueup.geometry.pieces.piece import Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.tolerance import SAME_POINT

NOTCH = "notch"


@dataclass(frozen=True)
class BeyondEnd:
    """A mark beyond the end of its line: `purpose` and name, the edge, its place, how long it is.

    Lengths are mm, along the sewn line.
    """

    purpose: str
    name: str
    edge: str
    at: Position
    length: float

    @property
    def distance(self) -> float:
        """Return how far the mark lies from the corner it is measured from."""
        return self.at.distance or 0.0


@lru_cache(512)
def marks_beyond(piece: Piece) -> tuple[BeyondEnd, ...]:
    """Return the notches and marks of a piece that lie beyond the ends of their lines."""
    edges = {edge.name: edge for edge in piece.edges}
    return tuple(
        BeyondEnd(purpose, name, edge, at, edges[edge].length)
        for purpose, name, edge, at in _placed(piece)
        if edge in edges and _is_beyond(at, edges[edge])
    )


def _placed(piece: Piece) -> Iterator[tuple[str, str, str, Position]]:
    for notch in piece.notches:
        yield NOTCH, notch.name, notch.edge, notch.at
    for mark in piece.marks:
        if isinstance(mark.place, OnEdge):
            yield mark.purpose.value, mark.name, mark.place.edge, mark.place.at


def _is_beyond(at: Position, edge: Edge) -> bool:
    # No line is shorter than the ways between its ends: most need not be measured.
    return (
        at.distance is not None
        and at.distance > sum(abs(part.end - part.start) for part in edge.parts)
        and at.distance > edge.length + SAME_POINT
    )


def is_beyond(piece: Piece, mark: Notch | InnerMark) -> bool:
    """Return whether a notch or a mark lies beyond the end of its line; not where that is gone."""
    if isinstance(mark, Notch):
        edge, at = mark.edge, mark.at
    elif isinstance(mark.place, OnEdge):
        edge, at = mark.place.edge, mark.place.at
    else:
        return False
    return any(e.name == edge and _is_beyond(at, e) for e in piece.edges)


def only_drawable(piece: Piece) -> Piece:
    """Return a piece without the marks that lie beyond the ends of their lines; else the same."""
    if not marks_beyond(piece):
        return piece
    return replace(
        piece,
        notches=tuple(notch for notch in piece.notches if not is_beyond(piece, notch)),
        marks=tuple(mark for mark in piece.marks if not is_beyond(piece, mark)),
    )
