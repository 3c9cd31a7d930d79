"""Let pieces that are drafted to a line follow it after a change."""

from collections.abc import Callable
from dataclasses import replace

from trueup.geometry.errors import NoSuchName
from trueup.geometry.following.band import band
from trueup.geometry.following.collar import collar
from trueup.geometry.following.facing import facing
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.drafted import BandTo, CollarTo, DraftedTo, FacingTo
from trueup.geometry.pieces.piece import Piece


def drawn(draft: Draft, to: DraftedTo) -> Piece:
    """Return a piece as it is drafted to its line now; raises NoSuchName, DoesNotFit."""
    match to:
        case BandTo():
            return band(draft, to)
        case CollarTo():
            return collar(draft, to)
        case FacingTo():
            return facing(draft, to)


def redrafted(before: Draft, after: Draft) -> Draft:
    """Return a draft after a change with the pieces that follow a line drawn anew to it.

    One whose own lines were drawn otherwise since keeps them: then its seam says what is open.
    Raises DoesNotFit where a piece can no longer be drafted to its line.
    """
    draft = after
    for to in before.drafted:
        if not _stands(draft, to) or not _stands(before, to):
            continue
        was, now = _lines(before, to), _lines(draft, to)
        if was == now:
            continue
        old, piece = drawn(before, to), draft.piece(to.piece)
        if piece.edges == old.edges:
            new = drawn(draft, _as_now(draft, to))
            drawn_anew = replace(
                piece, edges=new.edges, notches=new.notches, grainline=new.grainline
            )
            draft = draft.with_pieces(drawn_anew)
    return draft


def _as_now(draft: Draft, to: DraftedTo) -> DraftedTo:
    """Return by which amounts the piece is drafted after the change: it may have moved them."""
    return next((each for each in draft.drafted if each.piece == to.piece), to)


def _lines(draft: Draft, to: DraftedTo) -> list[object]:
    return [draft.edge(*draft.split_edge_name(line)) for line in lines_of(to)] + (
        [draft.piece(to.line.partition(".")[0])] if isinstance(to, FacingTo) else []
    )


def lines_of(to: DraftedTo) -> tuple[str, ...]:
    """Return the lines that a piece is drafted to."""
    return (to.line,) if isinstance(to, FacingTo) else to.lines


def _stands(draft: Draft, to: DraftedTo) -> bool:
    """Return whether the piece, and all it is drafted to, is there."""
    if to.piece not in draft.piece_names:
        return False
    return _is_there(lambda: _lines(draft, to))


def _is_there(read: Callable[[], object]) -> bool:
    try:
        read()
    except NoSuchName:
        return False
    return True
