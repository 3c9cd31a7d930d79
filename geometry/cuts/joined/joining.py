"""Join two pieces along a seam into one; what is told of them comes to it, and of it to them.

The second is laid to the first, line on line. What is one piece then is kept as one that was cut
apart there, so what brings a change of a whole to its parts serves here, too.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace

from trueup.geometry.cuts.following import parts_after
from trueup.geometry.cuts.joined.joined_lines import LaidIn
from trueup.geometry.cuts.joined.joined_whole import merged_edges, placed, whole_of
from trueup.geometry.cuts.sewing import in_parts, join_of_whole, relaid, seam_of_whole, without_dart
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.pieces.cut import Cut, LineEnd
from trueup.geometry.pieces.draft import Draft, Join, Run, Seam
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import AtLevel
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.seams.joined import Joined, Pairs
from trueup.geometry.said import said

Change = Callable[[Draft], Draft]


def joined(draft: Draft, first: tuple[str, str], second: tuple[str, str], name: str) -> Draft:
    """Return a draft with two pieces joined into one by a name, along an edge of each.

    The first stays where it lies. Raises NoSuchName, and DoesNotFit where they are not sewn to each
    other there, or their lines cannot be one.
    """
    one, other = draft.piece(first[0]), draft.piece(second[0])
    edges = one.edge(first[1]), other.edge(second[1])
    seam = _seam_between(draft, first, second)
    for piece, edge in zip((one, other), edges, strict=True):
        _require_plain(draft, piece, edge)
    if one.fold and other.fold:
        raise DoesNotFit(said("both-on-fold", other=other.name), said("open-one-fold"))
    turned = one.inward != other.inward
    along = [run.backwards for run in (*seam.side, *seam.mate)]
    if along[0] == (along[1] != turned):
        raise DoesNotFit(said("lies-over-it", other=other.name), said("leave-as-is"))
    ends = merged_edges(one, edges[0], other, edges[1], turned=turned)
    names = _names((one, edges[0]), (other, edges[1]), ends, turned=turned)
    line = edges[0].name
    begins, finishes = (LineEnd(edge, f"{line}-{edge}") for edge in ends)
    cut = Cut(line, Piece(name, one.edges, worn=one.worn), (one.name, other.name), begins, finishes)
    made = Joined(replace(cut, worn=one.worn), (one, other), names, seam)
    return together(draft, made)


def together(draft: Draft, made: Joined, old: Piece | None = None) -> Draft:
    """Return a draft with two pieces of it joined, as said; `old` is what they made before.

    Raises DoesNotFit where they are not both there, or their lines do not lie on each other.
    """
    there = {piece.name: piece for piece in draft.pieces}
    if missing := [part for part in made.part_names if part not in there]:
        reason = said("is-joined", part=missing[0], joined=made.name)
        raise DoesNotFit(reason, said("change-before-joining"))
    first, second = (there[part] for part in made.part_names)
    ways = _ways(made, first, second)
    whole, piece = made.cut.whole, old
    if old is None or (first, second) != made.parts:
        whole = whole_of(made.cut, ways[0].there(first), ways[1].there(second))
        piece = _sewn(made.cut, whole)
    cut = replace(made.cut, whole=whole)
    at_seam = _at_seam(made, (first, second))
    now = replace(
        made,
        cut=cut,
        parts=(first, second),
        seam=next((seam for seam in draft.seams if seam.name == made.seam.name), made.seam),
        joins=tuple(join for join in draft.joins if {join.first, join.second} & at_seam),
    )
    seams = (seam for seam in draft.seams if seam.name != made.seam.name)
    joins = (join for join in draft.joins if join not in now.joins)
    there_ways = dict(zip(made.part_names, ways, strict=True))
    pieces = (piece if each is first else each for each in draft.pieces if each is not second)
    return replace(
        draft,
        pieces=tuple(each for each in pieces if each is not None),
        seams=tuple(seam_of_whole(_seam_in(seam, there_ways), cut) for seam in seams),
        joins=tuple(join_of_whole(_join_in(join, there_ways), cut) for join in joins),
        joined=(*draft.joined, now),
    )


def apart(draft: Draft, made: Joined) -> Draft:
    """Return a draft with a piece in the two again that were joined into it, sewn as they were."""
    first, second = made.parts
    ways = _ways(made, first, second)
    lying = ways[0].there(first), ways[1].there(second)
    parted = in_parts(draft, made.cut, lying, (), ())
    back = {
        part: LaidIn({there: own for own, there in way.names.items()}, turned=way.turned)
        for part, way in zip(made.part_names, ways, strict=True)
    }
    own = {part.name: part for part in made.parts}
    return replace(
        parted,
        pieces=tuple(own.get(piece.name, piece) for piece in parted.pieces),
        seams=(*(_seam_in(seam, back) for seam in parted.seams), made.seam),
        joins=(*(_join_in(join, back) for join in parted.joins), *made.joins),
        cuts=draft.cuts,
        joined=tuple(each for each in draft.joined if each is not made),
    )


def told_of_parts(draft: Draft, change: Change) -> Draft:
    """Return a draft after a change that is told of pieces as they were before they were joined."""
    after = change(all_apart(draft))
    for made in draft.joined:
        after = together(after, made, draft.piece(made.name))
    return after


def told_of_joined(draft: Draft, names: Iterable[str], change: Change) -> Draft:
    """Return a draft after a change that is told of pieces that others were joined into.

    It is made on them with what the seams met marked, and comes to the pieces they were joined of.
    Raises DoesNotFit where it changes what the seam was.
    """
    told = [made for made in draft.joined if made.name in {*names}]
    marked = draft.with_pieces(*(made.cut.whole for made in told))
    after = change(marked)
    known: list[Joined] = []
    pieces: dict[str, Piece] = {}
    for made in after.joined:
        if made not in told:
            known.append(made)
            continue
        if made.name in (cut.whole.name for cut in after.cuts):
            raise DoesNotFit(said("was-joined", joined=made.name), said("cut-before-joining"))
        if made.name not in after.piece_names:
            continue
        whole = after.piece(made.name)
        if whole is made.cut.whole:
            known.append(made)
            pieces[made.name] = draft.piece(made.name)
        else:
            known.append(_followed(made, whole))
            pieces[made.name] = _sewn(made.cut, whole)
    table = tuple(pieces.get(piece.name, piece) for piece in after.pieces)
    return relaid(replace(after, pieces=table, joined=tuple(known)))


def apart_as(draft: Draft, other: Draft) -> Draft:
    """Return a draft with those pieces in two again that another has not on the table as one."""
    for made in reversed(draft.joined):
        if made.name not in other.piece_names:
            draft = apart(draft, made)
    return draft


def all_apart(draft: Draft) -> Draft:
    """Return a draft with all that was joined in the pieces that it was joined of."""
    for made in reversed(draft.joined):
        draft = apart(draft, made)
    return draft


# --- the piece they make, and back ----------------------------------------------------------------


def _ways(made: Joined, first: Piece, second: Piece) -> tuple[LaidIn, LaidIn]:
    names = [dict(pairs) for pairs in made.names]
    stays = LaidIn(names[0])
    turned = LaidIn(names[1], turned=first.inward != second.inward)
    line = made.cut.line
    motion = placed(stays.there(first).edge(line), turned.there(second).edge(line), second.name)
    return stays, replace(turned, motion=motion)


def _sewn(cut: Cut, whole: Piece) -> Piece:
    """Return a whole without a trace of where the seam met its lines."""
    for end in (cut.begins, cut.ends):
        whole = whole.with_edges(without_dart(whole.edge(end.edge), end.dart))
    return whole


def _followed(made: Joined, whole: Piece) -> Joined:
    """Return what was joined after a change of the whole."""
    first, second = made.parts
    ways = _ways(made, first, second)
    lying = ways[0].there(first), ways[1].there(second)
    before = whole_of(made.cut, *lying)
    # What the whole tells of their notches is told from other places than they tell it.
    told = parts_after(replace(made.cut, whole=replace(before, notches=())), before, *lying)
    now = parts_after(replace(made.cut, whole=before), whole, *told)
    parts = [
        _own(way, was, is_now, there, own, marks_stay=whole.marks == before.marks)
        for way, was, is_now, there, own in zip(ways, told, now, lying, made.parts, strict=True)
    ]
    return replace(made, cut=replace(made.cut, whole=whole), parts=(parts[0], parts[1]))


def _own(
    way: LaidIn, was: Piece, now: Piece, lying: Piece, own: Piece, *, marks_stay: bool
) -> Piece:
    """Return a part by itself, with what was not changed as it was."""
    if now is was:
        return own
    kept = {
        (notch.name, notch.edge): before
        for before in lying.notches
        for notch in was.notches
        if (notch.name, notch.edge) == (before.name, before.edge) and notch in now.notches
    }
    notches = tuple(kept.get((notch.name, notch.edge), notch) for notch in now.notches)
    back = way.back(replace(now, notches=notches))
    return replace(back, levels=own.levels, marks=own.marks if marks_stay else back.marks)


# --- what is asked of the two ---------------------------------------------------------------------


def _seam_between(draft: Draft, first: tuple[str, str], second: tuple[str, str]) -> Seam:
    """Return the seam that sews one edge to another, the first of them as its side."""
    sewing = [s for s in draft.seams if {first, second} & {(r.piece, r.edge) for r in s.runs}]
    places = [tuple((run.piece, run.edge) for run in seam.runs) for seam in sewing]
    if len(sewing) != 1 or sorted(places[0]) != sorted((first, second)) or first[0] == second[0]:
        line, other = ".".join(first), ".".join(second)
        raise DoesNotFit(said("not-sewn-so", line=line, other=other), said("sew-them-first"))
    seam = sewing[0]
    if seam.open_from:
        raise DoesNotFit(said("seam-left-open", seam=seam.name), said("leave-as-is"))
    return seam if places[0][0] == first else replace(seam, side=seam.mate, mate=seam.side)


def _require_plain(draft: Draft, piece: Piece, edge: Edge) -> None:
    """Raise DoesNotFit for what stands in the way of joining a piece along an edge."""
    if edge.darts:
        dart = edge.darts[0].name
        reason = said("dart-on-joined", dart=dart)
        raise DoesNotFit(reason, said("rotate-first"), piece=piece.name, edge=edge.name, dart=dart)
    if piece.pleats or piece.vents:
        name = next(iter((*(p.name for p in piece.pleats), *(v.name for v in piece.vents))))
        reason = said("is-pleated-or-vented", piece=piece.name, name=name)
        raise DoesNotFit(reason, said("join-before-pleats"))
    for mark in piece.marks:
        if isinstance(mark.place, AtLevel):
            reason = said("mark-from-level", mark=mark.name, piece=piece.name)
            raise DoesNotFit(reason, said("mark-after-joining"))
    if piece.name in {made.name for made in draft.joined}:
        raise DoesNotFit(said("joined-already", piece=piece.name), said("leave-as-is"))


def _names(
    one: tuple[Piece, Edge], other: tuple[Piece, Edge], ends: tuple[str, str], *, turned: bool
) -> tuple[Pairs, Pairs]:
    """Return what lines, corners and darts of two pieces are called in the one they make.

    What both have by one name has the piece's name before it; but the lines that go on from one to
    the other are one line.
    """
    line = one[1].name
    corners = f"{line}-{ends[0]}", f"{line}-{ends[1]}"
    found: list[Pairs] = []
    for (piece, edge), (beside, _) in zip((one, other), (other, one), strict=True):
        same = {*_told(piece)} & {*_told(beside)} - {*ends}
        names = {name: f"{piece.name}-{name}" for name in same}
        names.update({edge.name: line})
        at_begin, at_end = edge.ends_at, edge.starts_at
        if piece is other[0] and not turned:
            at_begin, at_end = at_end, at_begin
        names.update({at_begin: corners[0], at_end: corners[1]})
        found.append(tuple((name, there) for name, there in names.items() if name != there))
    return found[0], found[1]


def _told(piece: Piece) -> Iterator[str]:
    yield from piece.edge_names
    yield from (edge.starts_at for edge in piece.edges)
    yield from piece.dart_names


def _at_seam(made: Joined, parts: tuple[Piece, Piece]) -> set[tuple[str, str, str]]:
    """Return the ends of lines that meet where the seam ends, by own names."""
    corners = {*made.cut.seam_corners}
    found = set()
    for part, pairs in zip(parts, made.names, strict=True):
        own = {own for own, there in pairs if there in corners}
        for edge in part.edges:
            found |= {(part.name, edge.name, c) for c in (edge.starts_at, edge.ends_at) if c in own}
    return found


# --- seams and joins by other names ---------------------------------------------------------------


def _seam_in(seam: Seam, ways: Mapping[str, LaidIn]) -> Seam:
    if not seam.pieces & {*ways}:
        return seam
    side, mate = (tuple(_run_in(run, ways) for run in runs) for runs in (seam.side, seam.mate))
    return replace(seam, side=side, mate=mate)


def _run_in(run: Run, ways: Mapping[str, LaidIn]) -> Run:
    way = ways.get(run.piece)
    if way is None:
        return run
    return Run(run.piece, way.names.get(run.edge, run.edge), run.backwards != way.turned)


def _join_in(join: Join, ways: Mapping[str, LaidIn]) -> Join:
    if not join.pieces & {*ways}:
        return join
    first, second = (_end_in(end, ways) for end in (join.first, join.second))
    return replace(join, first=first, second=second)


def _end_in(end: tuple[str, str, str], ways: Mapping[str, LaidIn]) -> tuple[str, str, str]:
    way = ways.get(end[0])
    if way is None:
        return end
    return end[0], way.names.get(end[1], end[1]), way.names.get(end[2], end[2])
