"""What a maker calls a piece, and the name that was its own before: both find it.

A piece that was renamed remembers its own name. What was written for that, by the same chain, by
what it derives from or by who derives from it, still finds it: a draft tells of the piece by both
names, and a change is carried out on the draft by own names (`by_own_names`), so no kind knows of
any other. On the table, in seams and in whatever is said of it the piece has the name it was given.

A name given to a piece that is alike on both sides is that of both when they are parted: of a
`front` that is called `wrap` there are a `left-wrap` and a `right-wrap`.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace

from trueup.geometry.errors import CannotChange, DoesNotFit, GeometryError, NoSuchName
from trueup.geometry.pieces.draft import Draft, Join, Run, Seam
from trueup.geometry.pieces.drafted import DraftedTo, drafted_as
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.said import Said, said

Names = Mapping[str, str]
"""Names of pieces, each by another that it is to have."""

_NO_PIECE = ("edge", "corner", "level", "kind", "dart")
"""Facts that are names of something else, though they may read like that of a piece."""


def by_own_names(draft: Draft) -> Draft:
    """Return a draft with every piece by its own name; the same where none has another."""
    if not draft.called:
        return draft
    own = {called: own for own, called in draft.called_names.items()}
    return replace(_by_names(draft, own, {}), called=())


def as_called(
    draft: Draft, called: tuple[tuple[str, str], ...], known: Draft | None = None
) -> Draft:
    """Return a draft, given by own names, with its pieces called as said.

    What is the same object as a piece of the draft that was `known` by the same names comes out as
    the same object. Raises DoesNotFit where two pieces would be called alike.
    """
    if not called:
        return draft
    named = replace(draft, called=called)
    names = named.called_names
    there = [names.get(piece.name, piece.name) for piece in named.pieces]
    if twice := {name for name in there if there.count(name) > 1}:
        raise DoesNotFit(said("name-is-taken", name=min(twice)), said("another-name"))
    same = {}
    if known is not None:
        own = by_own_names(known)
        same = {id(p): was for p, was in zip(own.pieces, known.pieces, strict=True)}
    return _by_names(named, names, same)


def called_as(draft: Draft, other: Draft) -> Draft:
    """Return a draft with its pieces called as another calls them."""
    if draft.called == other.called:
        return draft
    return as_called(by_own_names(draft), other.called)


def renamed(draft: Draft, piece: str, name: str) -> Draft:
    """Return a draft in which a piece, told by either name, is called by another.

    Raises DoesNotFit where something else is told of by that.
    """
    own = own_name(draft, piece)
    before = draft.called_names.get(own, own)
    if name == before:
        raise DoesNotFit(said("is-called-so", name=name), said("another-name"))
    if name != own and draft.has_piece(name):
        raise DoesNotFit(said("name-is-taken", name=name), said("another-name"))
    kept = tuple(pair for pair in draft.called if pair[0] != own)
    called = kept if name == own else (*kept, (own, name))
    return as_called(by_own_names(draft), called)


def own_name(draft: Draft, name: str) -> str:
    """Return a name (of a piece, or `piece.place`) by the own name of the piece."""
    return in_names(name, {called: own for own, called in draft.called_names.items()})


def in_names(full: str, names: Names) -> str:
    """Return `piece` or `piece.place` with another name for the piece, where it has one."""
    piece, dot, place = full.partition(".")
    return f"{names.get(piece, piece)}{dot}{place}"


def told_in_names(error: GeometryError, names: Names) -> GeometryError:
    """Return what is refused with other names for the pieces it speaks of."""
    if isinstance(error, CannotChange):
        return CannotChange(
            error.kind,
            names.get(error.piece, error.piece),
            error.edge,
            _said_in_names(error.reason, names),
            _said_in_names(error.possible, names),
            error.largest,
            error.dart,
        )
    if isinstance(error, NoSuchName):
        candidates = tuple(dict.fromkeys(in_names(each, names) for each in error.candidates))
        name, where = in_names(error.name, names), names.get(error.where, error.where)
        return NoSuchName(error.what, name, where, candidates)
    return error


def _said_in_names(says: Said, names: Names) -> Said:
    facts = {
        key: ", ".join(in_names(each, names) for each in re.split(", ", fact))
        if isinstance(fact, str) and key not in _NO_PIECE
        else fact
        for key, fact in says.facts.items()
    }
    return Said(says.what, facts, tuple(_said_in_names(each, names) for each in says.also))


def _by_names(draft: Draft, names: Names, same: Mapping[int, Piece]) -> Draft:
    cuts = (
        replace(
            cut,
            parts=(names.get(cut.parts[0], cut.parts[0]), names.get(cut.parts[1], cut.parts[1])),
        )
        if cut.pieces & {*names}
        else cut
        for cut in draft.cuts
    )
    return replace(
        draft,
        pieces=tuple(_piece(piece, names, same) for piece in draft.pieces),
        seams=tuple(_seam(seam, names) for seam in draft.seams),
        joins=tuple(_join(join, names) for join in draft.joins),
        cuts=tuple(cuts),
        drafted=_drafted(draft.drafted, names),
    )


def _piece(piece: Piece, names: Names, same: Mapping[int, Piece]) -> Piece:
    if piece.name not in names:
        return piece
    return same.get(id(piece)) or replace(piece, name=names[piece.name])


def _seam(seam: Seam, names: Names) -> Seam:
    if not seam.pieces & {*names}:
        return seam
    side, mate = (
        tuple(Run(names.get(run.piece, run.piece), run.edge, run.backwards) for run in runs)
        for runs in (seam.side, seam.mate)
    )
    return replace(seam, side=side, mate=mate)


def _join(join: Join, names: Names) -> Join:
    if not join.pieces & {*names}:
        return join
    first, second = ((names.get(e[0], e[0]), *e[1:]) for e in (join.first, join.second))
    return replace(join, first=first, second=second)


def _drafted(drafted: Iterable[DraftedTo], names: Names) -> tuple[DraftedTo, ...]:
    return tuple(drafted_as(to, lambda full: in_names(full, names)) for to in drafted)
