"""State otherwise what lies on the fold of a piece, and which edges are sewn to each other."""

from collections.abc import Sequence
from dataclasses import replace

from trueup.lineage.drawings.stating.stated import Stated, StatedPiece, StatedSeam
from trueup.lineage.errors import BadRecord


def on_fold(stated: Stated, piece: str, edge: str | None, place: str) -> Stated:
    """Return what is stated with an edge of a piece on the fold, or none; raises BadRecord."""
    if edge is not None:
        _require_edge(stated, f"{piece}.{edge}", place)
    pieces = (replace(p, fold=edge) if p.name == piece else p for p in stated.pieces)
    return replace(stated, pieces=tuple(pieces))


def sewn_as(stated: Stated, seam: StatedSeam, place: str) -> Stated:
    """Return what is stated with a seam in the place of all that its edges were sewn by.

    Raises BadRecord for an edge that is not there, and for the name of another seam.
    """
    edges = (*seam.side, *seam.mate)
    for edge in edges:
        _require_edge(stated, edge, place)
    if len({*edges}) < len(edges):
        raise BadRecord(place, "an edge can not be sewn to itself", field=seam.name)
    bare = _unsewn(stated, edges)
    if any(other.name == seam.name for other in bare.seams):
        raise BadRecord(place, "another seam is called so already", field=seam.name)
    pieces = tuple(_with_free(piece, edges, is_free=False) for piece in bare.pieces)
    return replace(bare, pieces=pieces, seams=(*bare.seams, seam))


def sewn_to_nothing(stated: Stated, edge: str, place: str) -> Stated:
    """Return what is stated with an edge that is sewn to nothing; raises BadRecord."""
    _require_edge(stated, edge, place)
    bare = _unsewn(stated, (edge,))
    return replace(bare, pieces=tuple(_with_free(p, (edge,), is_free=True) for p in bare.pieces))


def _require_edge(stated: Stated, edge: str, place: str) -> None:
    if edge not in {f"{piece.name}.{each}" for piece in stated.pieces for each in piece.edges}:
        raise BadRecord(place, "no line is said to be this edge", field=edge)


def _unsewn(stated: Stated, edges: Sequence[str]) -> Stated:
    seams = (each for each in stated.seams if not {*each.side, *each.mate} & {*edges})
    return replace(stated, seams=tuple(seams))


def _with_free(piece: StatedPiece, edges: Sequence[str], *, is_free: bool) -> StatedPiece:
    own = [each for each in piece.edges if f"{piece.name}.{each}" in edges]
    kept = tuple(each for each in piece.free if each not in own)
    return replace(piece, free=(*kept, *own) if is_free else kept)
