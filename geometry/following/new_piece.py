"""Put a piece that is drafted to a line into a draft."""

from dataclasses import replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.following.redrafting import drawn
from trueup.geometry.pieces.draft import Draft, Seam
from trueup.geometry.pieces.drafted import DraftedTo
from trueup.geometry.redrawing.sound import require_sound
from trueup.geometry.said import said


def with_drafted(draft: Draft, to: DraftedTo, *seams: Seam) -> Draft:
    """Return a draft with a piece drafted to its line, and the seams it is sewn by.

    Raises NoSuchName for a line that is not there, DoesNotFit.
    """
    if draft.has_piece(to.piece) or any(draft.has_seam(seam.name) for seam in seams):
        raise DoesNotFit(said("name-is-taken", name=to.piece), said("another-name"))
    piece = drawn(draft, to)
    require_sound(piece, "")
    return replace(
        draft,
        pieces=(*draft.pieces, piece),
        seams=(*draft.seams, *seams),
        drafted=(*draft.drafted, to),
    )
