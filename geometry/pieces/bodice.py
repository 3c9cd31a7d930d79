"""Front and back, for changes that are made on both so that their seams still match.

They are those of a bodice, or where there is none the pieces that are sewn at the side: of a skirt.
"""

from trueup.geometry.errors import NoSuchName
from trueup.geometry.pieces.draft import Draft, Seam
from trueup.geometry.pieces.piece import Piece

FRONT, BACK = "front", "back"
BODICE = "bodice"
"""What front and back are called together."""

SIDE_SEAM = "side-seam"
"""What a seam at the side is called, or ends with: that of a skirt is skirt-side-seam."""


def bodice_names(draft: Draft) -> tuple[str, ...]:
    """Return which of front and back the draft has, or what it has in their place."""
    named = tuple(name for name in (FRONT, BACK) if draft.has_piece(name))
    if named:
        return named
    at_side = (run.piece for seam in draft.seams if is_side_seam(seam) for run in seam.runs)
    return tuple(dict.fromkeys(at_side))


def is_side_seam(seam: Seam) -> bool:
    """Return whether a seam is one at the side, of a bodice or of a skirt."""
    return seam.shared_name.endswith(SIDE_SEAM)


def side_seam_of(draft: Draft, piece: str) -> Seam:
    """Return the seam at which a piece is sewn at the side; raises NoSuchName where there is none.

    Where no seam at the side sews this piece, it is the one there is.
    """
    at_side = [seam for seam in draft.seams if is_side_seam(seam)]
    own = [seam for seam in at_side if piece in seam.pieces]
    return (own or at_side or [draft.seam(SIDE_SEAM)])[0]


def bodice_pieces(draft: Draft) -> tuple[Piece, ...]:
    """Return the front and the back, those that are there; raises NoSuchName for neither."""
    names = bodice_names(draft)
    if not names:
        raise NoSuchName("piece", FRONT, "this draft", draft.piece_names)
    return tuple(draft.piece(name) for name in names)
