"""Marks that lie beyond the end of their line: it became too short for the place they are kept by.

Such a mark is kept as it was said, is found by `check`, and lies on its line again once that is
long enough; until then it is drawn nowhere. While a change is carried out it is set aside, so that
no kind has to know of it.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from trueup.geometry.pieces.draft import Draft
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


def marks_beyond(piece: Piece) -> tuple[BeyondEnd, ...]:
    """Return the notches and marks of a piece that lie beyond the ends of their lines."""
    lengths = {edge.name: edge.length for edge in piece.edges}
    return tuple(
        BeyondEnd(purpose, name, edge, at, lengths[edge])
        for purpose, name, edge, at in _placed(piece)
        if _is_beyond(at, lengths.get(edge))
    )


def _placed(piece: Piece) -> Iterator[tuple[str, str, str, Position]]:
    for notch in piece.notches:
        yield NOTCH, notch.name, notch.edge, notch.at
    for mark in piece.marks:
        if isinstance(mark.place, OnEdge):
            yield mark.purpose.value, mark.name, mark.place.edge, mark.place.at


def _is_beyond(at: Position, length: float | None) -> bool:
    return length is not None and (at.distance or 0.0) > length + SAME_POINT


def is_beyond(piece: Piece, mark: Notch | InnerMark) -> bool:
    """Return whether a notch or a mark lies beyond the end of its line; not where that is gone."""
    if isinstance(mark, Notch):
        edge, at = mark.edge, mark.at
    elif isinstance(mark.place, OnEdge):
        edge, at = mark.place.edge, mark.place.at
    else:
        return False
    return any(e.name == edge and _is_beyond(at, e.length) for e in piece.edges)


def only_drawable(piece: Piece) -> Piece:
    """Return a piece without the marks that lie beyond the ends of their lines; else the same."""
    if not marks_beyond(piece):
        return piece
    return replace(
        piece,
        notches=tuple(notch for notch in piece.notches if not is_beyond(piece, notch)),
        marks=tuple(mark for mark in piece.marks if not is_beyond(piece, mark)),
    )


def set_aside(draft: Draft) -> Draft:
    """Return a draft without the marks that lie beyond the ends of their lines; else the same."""
    return _with(draft, {p.name: only_drawable(p) for p in _all(draft) if marks_beyond(p)})


def put_back(draft: Draft, before: Draft) -> Draft:
    """Return a draft with the marks that were set aside of another, where their edges are there.

    A piece that was parted into left and right has them on both.
    """
    changed: dict[str, Piece] = {}
    for was in _all(before):
        notches = [notch for notch in was.notches if is_beyond(was, notch)]
        marks = [mark for mark in was.marks if is_beyond(was, mark)]
        for piece in _all(draft) if notches or marks else ():
            if was.name in (piece.name, piece.shared_name):
                changed[piece.name] = _taking(piece, notches, marks)
    return _with(draft, changed)


def _taking(piece: Piece, notches: list[Notch], marks: list[InnerMark]) -> Piece:
    """Return a piece with more marks, where it has their edges and nothing of their names."""
    edges, named = {*piece.edge_names}, {mark.name for mark in piece.marks}
    on_edges = {(notch.edge, notch.name) for notch in piece.notches}
    return replace(
        piece,
        notches=(
            *piece.notches,
            *(n for n in notches if n.edge in edges and (n.edge, n.name) not in on_edges),
        ),
        marks=(
            *piece.marks,
            *(
                mark
                for mark in marks
                if isinstance(mark.place, OnEdge)
                and mark.place.edge in edges
                and mark.name not in named
            ),
        ),
    )


def _all(draft: Draft) -> Iterator[Piece]:
    """Yield the pieces on the table, and those that some of them were cut from."""
    yield from draft.pieces
    yield from draft.wholes


def _with(draft: Draft, changed: dict[str, Piece]) -> Draft:
    if not changed:
        return draft
    cuts = tuple(
        replace(cut, whole=changed[cut.whole.name]) if cut.whole.name in changed else cut
        for cut in draft.cuts
    )
    return replace(draft.with_pieces(*changed.values()), cuts=cuts)
