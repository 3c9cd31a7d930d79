"""Leave a seam open from a place on down to the hem: notch both sides there, and state it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.measuring.sections import sections_of, stations
from trueup.geometry.measuring.walk import run_length, walk
from trueup.geometry.pieces.draft import Draft, Run, Seam
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Notch
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_LENGTH


@dataclass(frozen=True)
class Opening:
    """A place on an edge of a piece from which it is open, to its corner at the `hem`."""

    piece: str
    edge: str
    at: Position
    hem: str


def left_open(
    draft: Draft, edge: str, at: Position, mark: str, side: str | None = None
) -> tuple[Draft, list[Opening]]:
    """Return a draft whose seam at an edge (`piece.edge`) is sewn only to a place on it.

    Both sides are notched there, as far from where the seam begins, or from its last mark above; an
    edge that no seam sews, as a centre cut as a pair, is notched alone. Returned, too, are the
    places, that of the edge first.
    The open end is that at a hem, else the lower one. `side` is that of the body it is made on: a
    seam that joins left to right is open on both. Raises NoSuchName, BadPosition, DoesNotFit.
    """
    piece, name = draft.split_edge_name(edge)
    own = draft.edge(piece, name)
    if draft.piece(piece).fold == name:
        raise DoesNotFit(said("on-fold"), said("name-another-edge"), edge=name)
    hem = own.ends_at if own.end.imag > own.start.imag else own.starts_at
    seam = next((s for s in draft.seams if Run(piece, name) in _forward(s.runs)), None)
    if seam is None:
        along = at.along(own)
        from_top = along if hem == own.ends_at else own.length - along
        opening = Opening(piece, name, Position(_other(own, hem), distance=from_top), hem)
        return _notched(draft, [opening], mark), [opening]
    require_on_both(seam, side)
    seam = _running_down(draft, seam, piece, name, hem)
    is_side = Run(piece, name) in _forward(seam.side)
    runs, others = (seam.side, seam.mate) if is_side else (seam.mate, seam.side)
    run = next(r for r in runs if (r.piece, r.edge) == (piece, name))
    along = at.along(own)
    before = run_length(draft, runs[: runs.index(run)])
    station = before + (own.length - along if run.backwards else along)
    # A seam to the mirror has one line on both its sides.
    sewn_there = _on_other(draft, seam, station, is_side=is_side)
    places = _at(draft, runs, station), _at(draft, others, sewn_there)
    openings = list(dict.fromkeys(places))
    draft = _notched(draft, openings, mark)
    return _as_stated(draft, seam, replace(seam, open_from=(mark, mark))), openings


def _on_other(draft: Draft, seam: Seam, station: float, *, is_side: bool) -> float:
    """Return how far along the other side of a seam a place of one side is sewn, mm.

    It is as far from the last of the seam's marks as here, for what lies before that may be eased.
    """
    own, other = 0.0, 0.0
    for ends in stations(draft, seam, sections_of(draft, seam)):
        here, there = ends if is_side else ends[::-1]
        if here <= station:
            own, other = here, there
    return other + station - own


def require_on_both(seam: Seam, side: str | None) -> None:
    """Raise DoesNotFit where a seam that joins left to right would be opened on one side alone."""
    if side and seam.meets_its_mirror:
        raise DoesNotFit(said("seam-is-of-both", seam=seam.name), said("make-on-both"))


def _as_stated(draft: Draft, seam: Seam, opened: Seam) -> Draft:
    """Return a draft with a seam opened, which holds there what it was stated to hold in all.

    Where a hem was meant to be uneven, that lies below the opening now, and is sewn no more.
    """
    was, now = walk(draft, seam), walk(draft, opened)
    if was.matches and not now.matches:
        opened = opened.moved(now.ease - was.ease, now.ease - was.ease)
    return draft.with_seam(opened)


def sewn_measures(draft: Draft, edge: str) -> tuple[str, ...]:
    """Return the names of the measures that say how far the seams at an edge are sewn."""
    piece, _, name = edge.partition(".")
    own = Run(piece, name)
    return tuple(f"{seam.name}.sewn" for seam in draft.seams if own in _forward(seam.runs))


def _forward(runs: Sequence[Run]) -> list[Run]:
    return [replace(run, backwards=False) for run in runs]


def _other(edge: Edge, corner: str) -> str:
    return edge.starts_at if corner == edge.ends_at else edge.ends_at


def _running_down(draft: Draft, seam: Seam, piece: str, edge: str, hem: str) -> Seam:
    """Return a seam told from its upper end, so that it is sewn from there to the place."""
    if seam.open_from:
        reason = said("open-already", seam=seam.name, mark=seam.open_from[0])
        raise DoesNotFit(reason, said("leave-seam-or-drop"), edge=edge)
    run = next(r for r in seam.runs if (r.piece, r.edge) == (piece, edge))
    own = draft.edge(piece, edge)
    if (own.starts_at if run.backwards else own.ends_at) == hem:
        return seam
    if seam.sections:
        reason = said("seam-by-sections", seam=seam.name)
        raise DoesNotFit(reason, said("leave-seam-or-drop"), edge=edge)
    side, mate = (
        tuple(replace(run, backwards=not run.backwards) for run in reversed(runs))
        for runs in (seam.side, seam.mate)
    )
    return replace(seam, side=side, mate=mate)


def _at(draft: Draft, runs: tuple[Run, ...], station: float) -> Opening:
    """Return the place so far along a run of edges, measured from where its edge begins there."""
    for run in runs:
        edge = draft.edge(run.piece, run.edge)
        first = edge.ends_at if run.backwards else edge.starts_at
        if station <= edge.length + SAME_LENGTH:
            at = Position(first, distance=min(station, edge.length))
            return Opening(run.piece, run.edge, at, _other(edge, first))
        station -= edge.length
    last = runs[-1]
    reason = said("too-high-on-mate", edge=str(last))
    raise DoesNotFit(reason, said("another-place"), edge=last.edge)


def _notched(draft: Draft, openings: list[Opening], mark: str) -> Draft:
    for each in openings:
        piece = draft.piece(each.piece)
        if any((notch.edge, notch.name) == (each.edge, mark) for notch in piece.notches):
            raise DoesNotFit(said("name-is-taken", name=mark), said("another-name"))
        draft = draft.with_pieces(piece.with_notches(Notch(mark, each.edge, each.at)))
    return draft


def left_open_to_mirror(draft: Draft, edge: str, at: Position, mark: str) -> Draft:
    """Return a draft whose edge (`piece.edge`) is sewn to its mirror, but for one end of it.

    It is open from the corner that the place is measured from up to there, where it is notched; the
    seam is stated if it was not. Raises NoSuchName, BadPosition, DoesNotFit where the edge lies on
    the fold or is sewn to something else.
    """
    piece, name = draft.split_edge_name(edge)
    own = draft.edge(piece, name)
    if draft.piece(piece).fold == name:
        raise DoesNotFit(said("on-fold"), said("name-another-edge"), edge=name)
    at.along(own)
    run = (Run(piece, name, backwards=at.corner == own.starts_at),)
    seam = next((s for s in draft.seams if Run(piece, name) in _forward(s.runs)), None)
    draft = _notched(draft, [Opening(piece, name, at, at.corner)], mark)
    if seam is None:
        called = f"{piece}-{name}"
        if draft.has_seam(called):
            raise DoesNotFit(said("name-is-taken", name=called), said("another-name"))
        made = Seam(called, run, run, open_from=(mark, mark))
        return replace(draft, seams=(*draft.seams, made))
    if not seam.meets_its_mirror or len(seam.side) > 1:
        raise DoesNotFit(said("sewn-to-another", seam=seam.name), said("name-another-edge"))
    if seam.open_from:
        reason = said("open-already", seam=seam.name, mark=seam.open_from[0])
        raise DoesNotFit(reason, said("leave-seam-or-drop"), edge=name)
    if seam.sections:
        reason = said("seam-by-sections", seam=seam.name)
        raise DoesNotFit(reason, said("leave-seam-or-drop"), edge=name)
    return draft.with_seam(replace(seam, side=run, mate=run, open_from=(mark, mark)))
