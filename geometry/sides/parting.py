"""A draft as each side of the body wears it, and the draft of both.

A draft holds each piece once, worn on both sides alike. A change made on one side parts the pieces
it draws otherwise there: `front` becomes `left-front` and `right-front`, and so do the seams and
joins they are part of. `worn_on` gives one side by itself, by the names both sides share, so that
whatever knows `front` works on a parted draft side by side; `of_both` puts the two together again.

Two parts that meet on a fold are one piece of cloth, or are sewn there: a seam says that they meet.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from trueup.geometry.calling.own_names import as_called, by_own_names
from trueup.geometry.pieces.cut import Cut
from trueup.geometry.pieces.draft import Draft, Join, Run, Seam, worn_name
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.seams.joined import Joined
from trueup.geometry.pieces.side import Side, side_of, sided, unsided

Sewn = TypeVar("Sewn", Seam, Join, Cut, Joined)


def parted_names(*drafts: Draft) -> frozenset[str]:
    """Return the shared names of the pieces and the seams that differ from left to right."""
    pieces = {piece.shared_name for draft in drafts for piece in draft.told_of if piece.worn}
    seams = {seam.shared_name for draft in drafts for seam in draft.seams if seam.worn}
    return frozenset(pieces | seams)


def worn_on(draft: Draft, side: Side) -> Draft:
    """Return one side of a draft by itself, its pieces, seams and joins by their shared names.

    Pieces that are called otherwise stand by their own names, and are told of by both.
    """
    if not draft.is_parted:
        return draft
    called, draft = draft.called, by_own_names(draft)
    here = (None, side)
    shared = {piece.name: piece.shared_name for piece in draft.told_of}
    return Draft(
        tuple(piece.for_side(None) for piece in draft.pieces if piece.worn in here),
        tuple(
            each
            for seam in draft.seams
            if seam.worn in here
            for each in _known_to(draft, seam, side, shared)
        ),
        tuple(join.for_side(None, shared) for join in draft.joins if join.worn in here),
        tuple(cut.for_side(None, shared) for cut in draft.cuts if cut.worn in here),
        draft.drafted,
        tuple((unsided(own) if side_of(own) is side else own, name) for own, name in called),
        tuple(each.for_side(None, shared) for each in draft.joined if each.worn in here),
    )


def of_both(left: Draft, right: Draft, apart: Collection[str] = ()) -> Draft:
    """Return the draft of two sides, each given by itself.

    What is alike on both stands once, but for pieces that are to be kept `apart`.
    """
    if left is right and not apart:
        return left
    both = (left, right)
    names = dict.fromkeys(piece.name for draft in both for piece in draft.pieces)
    pieces: list[Piece] = []
    parted = set()
    for name in names:
        mine, theirs = (_named(draft.pieces, name) for draft in both)
        if mine is not None and mine == theirs and name not in apart:
            pieces.append(mine)
            continue
        parted.add(name)
        pieces += [each.for_side(s) for each, s in zip((mine, theirs), Side, strict=True) if each]
    seams = (*_sewn_on_both(left.seams, right.seams, parted), *_meeting(pieces))
    joins = _sewn_on_both(left.joins, right.joins, parted)
    cuts = tuple(_sewn_on_both(left.cuts, right.cuts, parted))
    drafted = tuple(dict.fromkeys((*left.drafted, *right.drafted)))
    joined = tuple(_sewn_on_both(left.joined, right.joined, parted))
    return Draft(tuple(pieces), seams, tuple(joins), cuts, drafted, joined=joined)


def _meeting(pieces: Sequence[Piece]) -> Iterator[Seam]:
    """Yield a seam for each two parts of a piece that has a fold: there left meets right."""
    for mine in pieces:
        if mine.worn is Side.LEFT and mine.fold:
            theirs = _named(pieces, sided(mine.shared_name, Side.RIGHT))
            if theirs is not None and theirs.fold:
                name = f"{mine.shared_name}-{mine.fold}"
                first, second = Run(mine.name, mine.fold), Run(theirs.name, theirs.fold)
                yield Seam(name, (first,), (second,))


def _meets(draft: Draft, seam: Seam) -> bool:
    """Return whether a seam joins left to right."""
    return seam.worn is None and any(draft.piece(run.piece).worn for run in seam.runs)


def _known_to(draft: Draft, seam: Seam, side: Side, shared: Mapping[str, str]) -> Iterator[Seam]:
    """Yield a seam as one side knows it.

    One that joins left to right is that of a line to its mirror, or none where it is a fold.
    """
    if not _meets(draft, seam):
        yield seam.for_side(None, shared)
        return
    runs = seam.side if side is Side.LEFT else seam.mate
    if not any(draft.piece(run.piece).fold == run.edge for run in runs):
        own = tuple(replace(run, piece=shared[run.piece]) for run in runs)
        yield replace(seam, side=own, mate=own)


def _sewn_to_mirror(seam: Seam) -> Seam:
    """Return the seam of a line to its mirror, where the two sides have pieces of their own."""
    side, mate = (
        tuple(replace(run, piece=worn_name(run.piece, each)) for run in seam.side) for each in Side
    )
    return replace(seam, side=side, mate=mate)


def _sewn_on_both(
    left: Sequence[Sewn], right: Sequence[Sewn], parted: Collection[str]
) -> Iterator[Sewn]:
    for name in dict.fromkeys(each.name for each in (*left, *right)):
        mine, theirs = (_named(sewn, name) for sewn in (left, right))
        if mine is not None and mine == theirs and not _joins_any(mine, parted):
            yield mine
            continue
        if isinstance(mine, Seam) and theirs is not None and mine.meets_its_mirror:
            yield _sewn_to_mirror(mine)
            continue
        for each, side in zip((mine, theirs), Side, strict=True):
            if each is not None:
                names = {piece: worn_name(piece, side) for piece in each.pieces & {*parted}}
                yield each.for_side(side, names)


def _joins_any(sewn: Seam | Join | Cut | Joined, parted: Collection[str]) -> bool:
    return not sewn.pieces.isdisjoint(parted)


Named = TypeVar("Named", Piece, Seam, Join, Cut, Joined)


def _named(things: Iterable[Named], name: str) -> Named | None:
    return next((each for each in things if each.name == name), None)


def one_side(draft: Draft, side: Side | None = None) -> Draft:
    """Return the side of a draft that is asked about by its shared names; the left unless said."""
    return worn_on(draft, side or Side.LEFT)


def parted_as(draft: Draft, other: Draft) -> Draft:
    """Return a draft with its pieces parted where those of another are, so that both can be laid.

    A piece that is alike on both sides then stands twice.
    """
    apart = {piece.shared_name for piece in by_own_names(other).pieces if piece.worn}
    own = by_own_names(draft)
    if not apart.intersection(own.piece_names):
        return draft
    apart |= {piece.shared_name for piece in own.pieces if piece.worn}
    left, right = (worn_on(own, side) for side in Side)
    return as_called(of_both(left, right, apart), draft.called)
