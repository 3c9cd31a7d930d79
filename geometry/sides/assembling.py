"""One draft made of pieces of several."""

from collections.abc import Iterable, Sequence

from trueup.geometry.pieces.cut import Cut
from trueup.geometry.pieces.draft import Draft, Join, Seam
from trueup.geometry.pieces.side import Side
from trueup.geometry.sides.parting import of_both, worn_on


def assembled(parts: Iterable[tuple[Draft, Iterable[str]]]) -> Draft:
    """Return one draft made of named pieces of several drafts.

    A piece is named as both sides of the body share it; where left and right differ, both come. A
    seam or join is kept when all its pieces are there; where several drafts state it, the one
    that gives the piece of its first run does, so a sleeve brings along the ease its cap wants.
    Raises NoSuchName for a piece a draft does not have.
    """
    named = [(draft, tuple(names)) for draft, names in parts]
    if not any(draft.is_parted for draft, _ in named):
        return _of_one_side(named)
    left, right = (
        _of_one_side([(worn_on(draft, side), names) for draft, names in named]) for side in Side
    )
    return of_both(left, right)


def _of_one_side(parts: Sequence[tuple[Draft, tuple[str, ...]]]) -> Draft:
    pieces = tuple(
        piece for draft, names in parts for name in names for piece in draft.parts_of(name)
    )
    there = {piece.name for piece in pieces}
    seams: dict[str, Seam] = {}
    joins: dict[str, Join] = {}
    cuts: list[Cut] = []
    for draft, names in parts:
        for seam in draft.seams:
            first = draft.cut_from(seam.side[0].piece)
            if seam.pieces <= there and (seam.name not in seams or first & {*names}):
                seams[seam.name] = seam
        for join in draft.joins:
            if join.pieces <= there:
                joins.setdefault(join.name, join)
        own = {piece.name for name in names for piece in draft.parts_of(name)}
        cuts += draft.only(own).cuts
    drafted = dict.fromkeys(to for draft, _ in parts for to in draft.drafted if to.piece in there)
    return Draft(pieces, tuple(seams.values()), tuple(joins.values()), tuple(cuts), tuple(drafted))
