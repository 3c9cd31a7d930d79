"""A draft with its cut pieces laid together, for what is told of the whole, and taken apart again.

Seams and joins follow: a run along an edge of the whole is the runs along that edge in its parts.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from itertools import pairwise
from math import hypot

from trueup.geometry.cuts.following import parts_after
from trueup.geometry.cuts.laying import laid_together
from trueup.geometry.cuts.two_cut.two_laid import whole_of_two
from trueup.geometry.cuts.two_cut.two_parts import two_parts_after
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.pieces.cut import Cut
from trueup.geometry.pieces.draft import Draft, Join, Run, Seam
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.said import Said, said
from trueup.geometry.tolerance import SAME_AREA, SAME_POINT


def as_told_of(draft: Draft, names: Iterable[str], change: Callable[[Draft], Draft]) -> Draft:
    """Return a draft after a change that is told of pieces by these names; of all where of none.

    A piece that was cut is laid together first, and what was changed on it comes to its parts.
    """
    told = {*names}
    standing = {piece.name for piece in draft.pieces}
    wholes = [cut.whole.name for cut in draft.cuts]
    deepest = len(wholes) if told & standing else 0
    if not any(told & standing & cut.pieces for cut in draft.cuts):
        deepest = min((k for k, name in enumerate(wholes) if name in told), default=deepest)
    laid, undone = draft, []
    for cut in reversed(draft.cuts[deepest:]):
        undone.append((cut, laid))
        laid = _together(laid, cut)
    after = change(laid)
    for cut, before in reversed(undone):
        after = _apart(after, cut, before)
    return relaid(after)


def all_together(draft: Draft) -> Draft:
    """Return a draft with every piece that was cut laid together, its style seams left out."""
    for cut in reversed(draft.cuts):
        draft = _together(draft, cut)
    return draft


def joined(draft: Draft, cut: Cut) -> Draft:
    """Return a draft with a cut piece whole for good, its line gone where it took nothing in."""
    whole = _together(draft, cut)
    piece = cut.whole
    for end in (cut.begins, cut.ends):
        mouth = piece.mouth(end.dart)
        if mouth.intake < SAME_POINT:
            piece = piece.with_edges(without_dart(piece.edge(end.edge), end.dart))
        else:
            piece = piece.with_dart(replace(mouth.dart, setback=end.setback))
    return whole.with_pieces(piece)


def require_one(draft: Draft, cut: Cut, possible: Said) -> None:
    """Raise DoesNotFit where the parts of a cut piece lie over each other, laid together.

    So they do where both were flared along the line: as cloth they can only be two.
    """
    if cut.whole.is_simple:
        return
    first, second = (draft.piece(part).cloth for part in cut.parts)
    both = first.intersection(second)
    if both.area < SAME_AREA:
        return
    corners = list(both.minimum_rotated_rectangle.exterior.coords)
    wide = min(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(corners[:3]))
    raise DoesNotFit(said("parts-overlap", line=cut.name, over=wide), possible)


def without_dart(edge: Edge, dart: str) -> Edge:
    """Return an edge without a dart of no intake."""
    at = next(k for k, each in enumerate(edge.darts) if each.name == dart)
    line = Chain.joining(edge.parts[at : at + 2])
    parts = (*edge.parts[:at], line, *edge.parts[at + 2 :])
    return replace(edge, parts=parts, darts=(*edge.darts[:at], *edge.darts[at + 1 :]))


def together_as(draft: Draft, other: Draft) -> Draft:
    """Return a draft with those pieces laid together whose parts another has not on the table."""
    for cut in reversed(draft.cuts):
        if not cut.pieces & {*other.piece_names}:
            draft = _together(draft, cut)
    return draft


def relaid(draft: Draft) -> Draft:
    """Return a draft whose wholes are as their parts are now."""
    now = draft
    for cut in reversed(draft.cuts):
        first, second = (now.piece(part) for part in cut.parts)
        whole = (whole_of_two if cut.second else laid_together)(cut, first, second)
        if whole is not cut.whole:
            cuts = (replace(c, whole=whole) if c is cut else c for c in now.cuts)
            now = replace(now, cuts=tuple(cuts))
    return now


def _together(draft: Draft, cut: Cut) -> Draft:
    """Return a draft with one cut piece whole, and without the line it was cut along."""
    pieces = (cut.whole if p.name == cut.parts[0] else p for p in draft.pieces)
    return replace(
        draft,
        pieces=tuple(p for p in pieces if p.name != cut.parts[1]),
        seams=tuple(seam_of_whole(s, cut) for s in draft.seams if s.name not in cut.seam_names),
        joins=tuple(join_of_whole(j, cut) for j in draft.joins if j.name not in cut.join_names),
        cuts=tuple(each for each in draft.cuts if each is not cut),
    )


def _apart(after: Draft, cut: Cut, before: Draft) -> Draft:
    """Return a draft with a piece in its parts again, as `before` but for what changed."""
    whole = after.piece(cut.whole.name)
    first, second = (before.piece(part) for part in cut.parts)
    parts = (two_parts_after if cut.second else parts_after)(cut, whole, first, second)
    return in_parts(
        after,
        replace(cut, whole=whole),
        parts,
        [seam for seam in before.seams if seam.name in cut.seam_names],
        [join for join in before.joins if join.name in cut.join_names],
    )


def in_parts(
    draft: Draft,
    cut: Cut,
    parts: tuple[Piece, Piece],
    seams: Iterable[Seam],
    joins: Iterable[Join],
) -> Draft:
    """Return a draft with a piece of it in parts, its line's own seams and joins put in."""
    pieces: list[Piece] = []
    # What lies between two lines is told of before what lies beyond them.
    parts_in_order = parts[::-1] if cut.second else parts
    for piece in draft.pieces:
        pieces += parts_in_order if piece.name == cut.whole.name else (piece,)
    return replace(
        draft,
        pieces=tuple(pieces),
        seams=(*(_seam_of_parts(seam, cut, parts) for seam in draft.seams), *seams),
        joins=(*(_join_of_parts(join, cut, parts) for join in draft.joins), *joins),
        cuts=(*draft.cuts, cut),
    )


def own_seam(cut: Cut) -> Seam:
    """Return the seam along the line: both parts from where it begins."""
    first, second = cut.parts
    side, mate = (Run(first, cut.line, backwards=True),), (Run(second, cut.line),)
    return Seam(cut.name, side, mate, worn=cut.worn)


def own_joins(cut: Cut) -> tuple[Join, Join]:
    """Return what should run on smoothly across the line, where it begins and where it ends."""
    first, second = cut.parts
    (begin, end), names = cut.seam_corners, cut.join_names
    begins, ends = cut.begins.edge, cut.ends.edge
    return (
        Join(names[0], (second, begins, begin), (first, begins, begin), worn=cut.worn),
        Join(names[1], (first, ends, end), (second, ends, end), worn=cut.worn),
    )


# --- runs and corners -----------------------------------------------------------------------------


def seam_of_whole(seam: Seam, cut: Cut) -> Seam:
    """Return a seam of the parts of a cut piece as one of the whole."""
    if not seam.pieces & cut.pieces:
        return seam
    return replace(seam, side=_of_whole(seam.side, cut), mate=_of_whole(seam.mate, cut))


def _of_whole(runs: tuple[Run, ...], cut: Cut) -> tuple[Run, ...]:
    named = (
        replace(run, piece=cut.whole.name, edge=cut.edge_of_whole(run.edge))
        if run.piece in cut.parts
        else run
        for run in runs
    )
    return tuple(dict.fromkeys(named))


def _seam_of_parts(seam: Seam, cut: Cut, parts: tuple[Piece, Piece]) -> Seam:
    if cut.whole.name not in seam.pieces:
        return seam
    side, mate = (
        tuple(each for run in runs for each in _in_parts(run, cut, parts))
        for runs in (seam.side, seam.mate)
    )
    return replace(seam, side=side, mate=mate)


def _in_parts(run: Run, cut: Cut, parts: tuple[Piece, Piece]) -> Iterator[Run]:
    if run.piece != cut.whole.name:
        yield run
        return
    if cut.second:
        yield from _in_two_parts(run, cut, parts)
        return
    in_order = parts[::-1] if run.edge == cut.begins.edge else parts
    for part in in_order[::-1] if run.backwards else in_order:
        if run.edge in part.edge_names:
            yield replace(run, piece=part.name)


def _in_two_parts(run: Run, cut: Cut, parts: tuple[Piece, Piece]) -> Iterator[Run]:
    """Yield the runs along an edge that two lines part, the one between them in the middle.

    Where the lines end, what lies beyond them is one edge; it comes after that between them.
    """
    beyond, between = (part.name for part in parts)
    places = [(between, run.edge), (beyond, run.edge)]
    if run.edge == cut.begins.edge:
        front, back = cut.beside
        places = [(beyond, front), (between, run.edge), (beyond, back)]
    for piece, edge in places[::-1] if run.backwards else places:
        yield replace(run, piece=piece, edge=edge)


def join_of_whole(join: Join, cut: Cut) -> Join:
    """Return a join of the parts of a cut piece as one of the whole."""
    if not join.pieces & cut.pieces:
        return join
    first, second = (
        (cut.whole.name, cut.edge_of_whole(end[1]), end[2]) if end[0] in cut.parts else end
        for end in (join.first, join.second)
    )
    return replace(join, first=first, second=second)


def _join_of_parts(join: Join, cut: Cut, parts: tuple[Piece, Piece]) -> Join:
    if cut.whole.name not in join.pieces:
        return join
    first, second = (_end_in_parts(end, cut, parts) for end in (join.first, join.second))
    return replace(join, first=first, second=second)


def _end_in_parts(
    end: tuple[str, str, str], cut: Cut, parts: tuple[Piece, Piece]
) -> tuple[str, str, str]:
    name, edge, corner = end
    if name != cut.whole.name:
        return end
    for part in parts:
        for own in part.edges:
            if cut.edge_of_whole(own.name) == edge and corner in (own.starts_at, own.ends_at):
                return part.name, own.name, corner
    return end
