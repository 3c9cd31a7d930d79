"""One draft made of pieces of several."""

from collections.abc import Collection, Iterable, Sequence

from trueup.geometry.calling.own_names import as_called, by_own_names, own_name
from trueup.geometry.pieces.cut import Cut
from trueup.geometry.pieces.draft import Draft, Join, Seam
from trueup.geometry.pieces.seams.joined import Joined
from trueup.geometry.pieces.side import Side, unsided
from trueup.geometry.sides.parting import of_both, worn_on


def assembled(parts: Iterable[tuple[Draft, Iterable[str]]]) -> Draft:
    """Return one draft made of named pieces of several drafts.

    A piece is named as both sides of the body share it; where left and right differ, both come. A
    seam or join is kept when all its pieces are there, and is stated by a draft that gives one of
    them; where several do, by the one that gives the piece of its first run, so a sleeve brings
    along the ease its cap wants. Pieces are called as in the draft they come from. Raises
    NoSuchName for a piece a draft does not have, DoesNotFit where two would have one name.
    """
    given = [(draft, tuple(names)) for draft, names in parts]
    named = [(by_own_names(draft), tuple(own_name(draft, n) for n in ns)) for draft, ns in given]
    called = tuple(
        pair
        for (draft, _), (own, names) in zip(given, named, strict=True)
        for pair in draft.called
        if _gives(own, names, pair[0])
    )
    return as_called(_by_own_names(named), tuple(dict.fromkeys(called)))


def _by_own_names(named: Sequence[tuple[Draft, tuple[str, ...]]]) -> Draft:
    if not any(draft.is_parted for draft, _ in named):
        return _of_one_side(named)
    left, right = (
        _of_one_side([(worn_on(draft, side), names) for draft, names in named]) for side in Side
    )
    return of_both(left, right)


def _gives(draft: Draft, names: Collection[str], piece: str) -> bool:
    """Return whether a piece, or one it is a side of, is among those that a draft gives."""
    is_there = any(piece in (each.name, each.shared_name) for each in draft.told_of)
    return is_there and bool({piece, unsided(piece), *draft.cut_from(piece)} & {*names})


def _of_one_side(parts: Sequence[tuple[Draft, tuple[str, ...]]]) -> Draft:
    pieces = tuple(
        dict.fromkeys(
            piece for draft, names in parts for name in names for piece in draft.parts_of(name)
        )
    )
    there = {piece.name for piece in pieces}
    seams: dict[str, Seam] = {}
    joins: dict[str, Join] = {}
    cuts: list[Cut] = []
    joined: list[Joined] = []
    for draft, names in parts:
        own = {piece.name for name in names for piece in draft.parts_of(name)}
        for seam in draft.seams:
            first = draft.cut_from(seam.side[0].piece)
            if not (seam.pieces <= there and seam.pieces & own):
                continue
            if seam.name not in seams or first & {*names}:
                seams[seam.name] = seam
        for join in draft.joins:
            if join.pieces <= there and join.pieces & own:
                joins.setdefault(join.name, join)
        given = draft.only(own)
        cuts += given.cuts
        joined += given.joined
    drafted = dict.fromkeys(to for draft, _ in parts for to in draft.drafted if to.piece in there)
    return Draft(
        pieces,
        tuple(seams.values()),
        tuple(joins.values()),
        tuple(cuts),
        tuple(drafted),
        joined=tuple(joined),
    )
