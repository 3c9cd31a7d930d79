"""Set marks beyond the ends of their lines aside for a change: no kind has to know of them."""

from collections.abc import Iterator
from dataclasses import replace

from trueup.geometry.pieces.beyond.marks import is_beyond, marks_beyond, only_drawable
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.mark import InnerMark, OnEdge
from trueup.geometry.pieces.piece import Notch, Piece


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
