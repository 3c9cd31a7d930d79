"""Which edges a change gave another shape: moved or turned as they were, they keep it."""

from trueup.geometry.calling.own_names import called_as
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import shape_of
from trueup.geometry.pieces.piece import Piece


def reshaped_edges(before: Draft, after: Draft) -> tuple[str, ...]:
    """Return the full names of edges whose shape, up to a rigid motion, is new in `after`.

    Those of a piece that was renamed by both its names.
    """
    before = called_as(before, after)
    changed = []
    for piece in after.told_of:
        old = _as_it_was(before, after, piece)
        if old is piece:
            continue
        changed += [
            f"{piece.name}.{edge.name}"
            for edge in piece.edges
            if old is None or edge.name not in old.edge_names or _differs(old, piece, edge.name)
        ]
    return tuple(changed)


def _as_it_was(before: Draft, after: Draft, piece: Piece) -> Piece | None:
    """Return a piece as it was; one that is parted now may have been alike on both sides.

    A part that was cut since was some of the piece it was cut from.
    """
    names = (piece.name, piece.shared_name)
    found = next((before.piece(name) for name in names if before.has_piece(name)), None)
    cut = next((cut for cut in after.cuts if piece.name in cut.parts), None)
    return found or (_as_it_was(before, after, cut.whole) if cut else None)


def _differs(old: Piece, new: Piece, edge: str) -> bool:
    if old.edge(edge) is new.edge(edge):
        return False
    return shape_of(old, edge) != shape_of(new, edge)
