"""The two halves of a bodice, for changes that are made on both so that their seams still match."""

from trueup.geometry.errors import NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece

FRONT, BACK = "front", "back"


def bodice_names(draft: Draft) -> tuple[str, ...]:
    """Return which of front and back the draft has."""
    return tuple(name for name in (FRONT, BACK) if draft.has_piece(name))


def bodice_pieces(draft: Draft) -> tuple[Piece, ...]:
    """Return the front and the back, those that are there; raises NoSuchName for neither."""
    names = bodice_names(draft)
    if not names:
        raise NoSuchName("piece", FRONT, "this draft", draft.piece_names)
    return tuple(draft.piece(name) for name in names)
