"""Draw the lining of a piece: its outline, less its facings, with cloth at the centre to spare."""

from dataclasses import replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.following.facing import INNER
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Motion, Point
from trueup.geometry.pieces.beyond.marks import is_beyond
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.drafted import FacingTo, LiningTo
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.drawn_on import reversed_edge
from trueup.geometry.redrawing.hems.hem import drawn_between
from trueup.geometry.redrawing.move_corner import end_motion, meeting, start_motion
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT, SHORTEST_LEFT

HEM, CENTRE = "hem", "centre"
PLEAT = "pleat"
_MEETS = 1e-3


def lining(draft: Draft, to: LiningTo) -> Piece:
    """Return the lining as the piece is now; raises NoSuchName, DoesNotFit.

    It lies where the piece does. Lines with a facing give way to the inner edge of that; the hem is
    raised along both edges that meet it; then the centre moves out, and what meets it goes on.
    """
    piece = draft.piece(to.of)
    for name in to.facings:
        piece = _faced(piece, draft.piece(name), facing_of(draft, to.of, name))
    if to.shorter > SAME_POINT:
        piece = _hem_raised(piece, to.shorter)
    if to.pleat > SAME_POINT:
        piece = _centre_moved(piece, to.pleat)
    return Piece(
        to.piece, piece.edges, piece.inner_darts, piece.notches, piece.grainline, piece.fold
    )


def facing_of(draft: Draft, piece: str, name: str) -> FacingTo:
    """Return how a facing of a piece was drafted; raises DoesNotFit for what is none of it."""
    facings = (to for to in draft.drafted if isinstance(to, FacingTo))
    for to in facings:
        if to.piece == name and to.line.partition(".")[0] == piece:
            return to
    raise DoesNotFit(said("no-facing-of", facing=name, piece=piece), said("draft-facing-first"))


def _faced(piece: Piece, facing: Piece, to: FacingTo) -> Piece:
    """Return a piece that ends where a facing of one of its lines does.

    A dart that the facing takes in closed opens on its inner edge now.
    """
    line = piece.edge(to.line.partition(".")[2])
    before, after = piece.neighbours(line.name)
    if line.darts:
        dart = line.darts[0].name
        raise DoesNotFit(said("dart-on-faced", dart=dart), said("rotate-first"), edge=line.name)
    inner = Edge(line.name, line.starts_at, line.ends_at, (facing.edge(INNER).outline.reversed(),))
    second, inner = _cut_along(after, inner, to.width)
    first, inner = _cut_along(reversed_edge(before), reversed_edge(inner), to.width)
    first, inner = reversed_edge(first), reversed_edge(inner)
    if max(abs(inner.start - first.end), abs(inner.end - second.start)) > _MEETS:
        reason = said("facing-drawn-otherwise", facing=facing.name)
        raise DoesNotFit(reason, said("draft-facing-anew"), edge=line.name)
    changed = piece.with_edges(first, meeting(inner, first.end, second.start), second)
    notches = (_kept(piece, changed, notch, line.name) for notch in piece.notches)
    return replace(changed, notches=tuple(filter(None, notches)))


def _cut_along(edge: Edge, inner: Edge, by: float) -> tuple[Edge, Edge]:
    """Return an edge whose start is cut off where an inner line ends, and that line.

    Darts that opened on what was cut off open on the line. Raises DoesNotFit where one ends above.
    """
    line = closed(edge)
    taken = [k for k, at in enumerate(line.dart_stations) if at < by]
    parts, darts = [inner.parts[-1]], []
    for k in taken:
        dart = line.darts[k]
        met = parts[-1].crossings(dart.apex, dart.meets - dart.apex)
        deep = [at for at in met if 0 < at < parts[-1].length]
        tip = edge.mouths[k].tip
        if not deep or abs(tip - dart.dart.apex) > abs(parts[-1].point_at(deep[-1]) - dart.apex):
            reason = said("dart-ends-in-facing", dart=dart.dart.name)
            raise DoesNotFit(reason, said("narrower"), edge=edge.name, dart=dart.dart.name)
        parts[-1:] = parts[-1].split_at(deep[-1])
        darts.append(dart.dart)
    back = [Motion(), *(line.motions[k + 1].inverse() for k in taken)]
    opened = [part.moved(motion) for part, motion in zip(parts, back, strict=True)]
    left = edge
    if taken:
        gone = len(taken)
        left = replace(edge, parts=edge.parts[gone:], darts=edge.darts[gone:])
        by -= line.dart_stations[gone - 1]
    both = replace(inner, parts=(*inner.parts[:-1], *opened), darts=(*inner.darts, *darts))
    return _start_cut(left, by), both


def _kept(old: Piece, new: Piece, notch: Notch, gone: str) -> Notch | None:
    """Return a notch at its place on an edge cut short or drawn on; None where that is off.

    A notch of a line that is `gone` goes with it.
    """
    if notch.edge == gone or is_beyond(old, notch):
        return None
    was, now = old.edge(notch.edge), new.edge(notch.edge)
    if was is now or (was.start != now.start and was.end != now.end):
        return notch
    along = notch.at.along(was)
    if abs(was.start - now.start) > SAME_POINT:
        along -= was.length - now.length
    if not 0 <= along <= now.length:
        return None
    return replace(notch, at=Position(now.starts_at, distance=along))


def _end_cut(edge: Edge, by: float) -> Edge:
    """Return an edge whose end is cut off; raises DoesNotFit where it is shorter, or at a dart."""
    last = edge.parts[-1]
    if last.length < by + SHORTEST_LEFT:
        dart = edge.darts[-1].name if edge.darts else None
        if dart:
            reason, possible = said("reaches-dart", dart=dart), said("smaller-or-move-dart")
        else:
            reason = said("no-room-along", edge=edge.name, length=edge.length)
            possible = said("smaller-amount")
        largest = max(last.length - SHORTEST_LEFT, 0.0)
        raise DoesNotFit(reason, possible, edge=edge.name, largest=largest, dart=dart)
    return replace(edge, parts=(*edge.parts[:-1], last.between(0.0, last.length - by)))


def _start_cut(edge: Edge, by: float) -> Edge:
    return reversed_edge(_end_cut(reversed_edge(edge), by))


def _hem_raised(piece: Piece, by: float) -> Piece:
    hem = piece.edge(HEM)
    before, after = piece.neighbours(HEM)
    first, second = _end_cut(before, by), _start_cut(after, by)
    motions = end_motion(before, first), start_motion(after, second)
    raised = drawn_between(hem, *motions, first.end, second.start)
    changed = piece.with_edges(first, raised, second)
    notches = (_kept(piece, changed, notch, "") for notch in piece.notches)
    return replace(changed, notches=tuple(filter(None, notches)))


def centre_of(piece: Piece) -> str:
    """Return the edge of a piece at the centre of the body: its fold, or its centre."""
    return piece.fold or piece.edge(CENTRE).name


def _centre_moved(piece: Piece, by: float) -> Piece:
    """Return a piece whose centre lies further out; the lines that meet it go straight on to it."""
    centre = piece.edge(centre_of(piece))
    if centre.darts:
        dart = centre.darts[0].name
        raise DoesNotFit(said("dart-on-centre", dart=dart), said("rotate-first"), edge=centre.name)
    before, after = piece.neighbours(centre.name)
    start = before.end + before.parts[-1].end_tangent * by
    end = after.start - after.parts[0].start_tangent * by
    moved = replace(centre, parts=(_moved(centre.parts[0], start, end),))
    first = (*before.parts[:-1], Chain.joining([before.parts[-1], Chain.line(before.end, start)]))
    second = (Chain.joining([Chain.line(end, after.start), after.parts[0]]), *after.parts[1:])
    changed = piece.with_edges(replace(before, parts=first), moved, replace(after, parts=second))
    notches = (_kept(piece, changed, notch, "") for notch in piece.notches)
    marks = (
        Notch(PLEAT, before.name, Position(before.ends_at, distance=by)),
        Notch(PLEAT, after.name, Position(after.starts_at, distance=by)),
    )
    return replace(changed, notches=(*filter(None, notches), *marks))


def _moved(line: Chain, start: Point, end: Point) -> Chain:
    """Return a line between new ends, its shape kept."""
    fitted = line.fitted_between(start, end)
    return fitted.starting_at(start).ending_at(end)
