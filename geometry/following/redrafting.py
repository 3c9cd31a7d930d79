"""Let pieces that are drafted to a line follow it after a change."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from trueup.geometry.errors import DoesNotFit, NoSuchName
from trueup.geometry.following.band import band
from trueup.geometry.following.binding import binding
from trueup.geometry.following.collar import collar
from trueup.geometry.following.cuff import cuff
from trueup.geometry.following.facing import facing
from trueup.geometry.following.flat_collar import flat_collar
from trueup.geometry.following.hood import hood
from trueup.geometry.following.lining import lining
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.drafted import (
    BandTo,
    BindingTo,
    CollarTo,
    CuffTo,
    DraftedTo,
    FacingTo,
    FlatCollarTo,
    HoodTo,
    LiningTo,
)
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.marks import is_there
from trueup.geometry.said import said

_DRAWN: dict[type, Callable[[Draft, Any], Piece]] = {
    BandTo: band,
    CollarTo: collar,
    FlatCollarTo: flat_collar,
    HoodTo: hood,
    CuffTo: cuff,
    BindingTo: binding,
    FacingTo: facing,
    LiningTo: lining,
}


def drawn(draft: Draft, to: DraftedTo) -> Piece:
    """Return a piece as it is drafted to its line now; raises NoSuchName, DoesNotFit."""
    return _DRAWN[type(to)](draft, to)


def redrafted(before: Draft, after: Draft) -> Draft:
    """Return a draft after a change with the pieces that follow a line drawn anew to it.

    One whose own lines were drawn otherwise since keeps them: then its seam says what is open.
    The change may have drafted it by other amounts, too, as more of its line is gathered. Raises
    DoesNotFit where a piece can no longer be drafted to its line.
    """
    draft = after
    told = {to.piece: to for to in after.drafted}
    for to in before.drafted:
        if not _stands(draft, to) or not _stands(before, to):
            continue
        was, now = _hangs_on(before, to), _hangs_on(draft, to)
        if was == now:
            continue
        old, piece = drawn(before, to), draft.piece(to.piece)
        if piece.edges == old.edges:
            new = drawn(draft, told.get(to.piece, to))
            draft = draft.with_pieces(_drawn_anew(piece, old, new))
    return draft


def require_none_that_grows(draft: Draft, edge: str) -> None:
    """Raise DoesNotFit where a piece is drafted to an edge that would grow when that is spread.

    A band or a cuff does not: it keeps its length, and takes up what is gathered.
    """
    for to in draft.drafted:
        if not isinstance(to, BandTo | CuffTo) and edge in lines_of(to):
            reason = said("would-grow-with-it", piece=to.piece)
            raise DoesNotFit(reason, said("drop-it-first", piece=to.piece))


def _drawn_anew(piece: Piece, old: Piece, new: Piece) -> Piece:
    """Return a piece as it is drawn now; notches of its own stay where it reaches so far."""
    edges = {edge.name for edge in new.edges}
    kept = replace(
        piece,
        edges=new.edges,
        notches=new.notches,
        grainline=new.grainline,
        fold=piece.fold if piece.fold in edges else new.fold,
        levels=tuple(level for level in piece.levels if not level.along or level.along in edges),
        allowances=tuple((edge, mm) for edge, mm in piece.allowances if edge in edges),
    )
    if piece.inner_darts == old.inner_darts:
        kept = replace(kept, inner_darts=new.inner_darts)
    own = (notch for notch in piece.notches if notch not in old.notches)
    return kept.with_notches(*(notch for notch in own if is_there(kept, notch)))


def _hangs_on(draft: Draft, to: DraftedTo) -> list[object]:
    """Return all that a piece is drawn by: what it is drafted to, and what meets that."""
    named = [draft.split_edge_name(line) for line in lines_of(to)]
    found: list[object] = [draft.edge(*each) for each in named]
    match to:
        case FacingTo():
            found += [draft.piece(piece) for piece, _ in named]
        case LiningTo():
            found += [draft.piece(name) for name in (to.of, *to.facings)]
        case FlatCollarTo():
            found += [draft.piece(piece).neighbours(edge) for piece, edge in named]
        case _:
            pass
    return found


def lines_of(to: DraftedTo) -> tuple[str, ...]:
    """Return the lines that a piece is drafted to."""
    if isinstance(to, LiningTo):
        return ()
    return (to.line,) if isinstance(to, FacingTo) else to.lines


def _stands(draft: Draft, to: DraftedTo) -> bool:
    """Return whether the piece, and all it is drafted to, is there."""
    if to.piece not in draft.piece_names:
        return False
    try:
        _hangs_on(draft, to)
    except NoSuchName:
        return False
    return True
