"""Draw a facing: the piece along one of its lines, darts closed, as wide as it is to be."""

from collections.abc import Sequence

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.interpolate import smooth_line
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.beyond.marks import is_beyond
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.drafted import FacingTo
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Notch, Piece
from trueup.geometry.redrawing.move_corner import taper
from trueup.geometry.said import said
from trueup.geometry.tolerance import SHORTEST_LEFT

INNER = "inner-edge"

_STATIONS = 12


def facing(draft: Draft, to: FacingTo) -> Piece:
    """Return the facing as the line is now; raises NoSuchName, DoesNotFit.

    It lies where the piece has it, both ends along the edges that meet the line, darts closed.
    """
    name, edge_name = draft.split_edge_name(to.line)
    piece = draft.piece(name)
    edge = piece.edge(edge_name)
    before, after = piece.neighbours(edge_name)
    for beside in (before, after):
        if beside.length < to.width + SHORTEST_LEFT:
            reason = said("no-room-along", edge=beside.name, length=beside.length)
            raise DoesNotFit(reason, said("narrower"), edge=edge_name, largest=beside.length)
    line, ahead = closed(edge), closed(before)
    behind = ahead.chain.moved(ahead.motions[-1].inverse()).ending_at(edge.start)
    arriving = behind.between(behind.length - to.width, behind.length)
    leaving = closed(after).chain.between(0.0, to.width).moved(line.motions[-1])
    inner = _inner(line.chain, leaving.end, arriving.start, piece.inward, to.width)
    notches = tuple(n for n in piece.notches if n.edge == edge_name and not is_beyond(piece, n))
    edges = (
        Edge(edge_name, edge.starts_at, edge.ends_at, (line.chain,)),
        Edge(after.name, edge.ends_at, f"{INNER}-start", (leaving.starting_at(line.chain.end),)),
        Edge(INNER, f"{INNER}-start", f"{INNER}-end", (inner,)),
        Edge(before.name, f"{INNER}-end", edge.starts_at, (arriving,)),
    )
    fold = piece.fold if piece.fold in (before.name, after.name) else None
    drawn = Piece(to.piece, edges, (), _placed(notches, edge_name), None, fold)
    return Piece(to.piece, edges, (), drawn.notches, _grainline(piece, drawn), fold)


def _placed(notches: tuple[Notch, ...], edge: str) -> tuple[Notch, ...]:
    return tuple(notch for notch in notches if notch.edge == edge)


def _inner(line: Chain, start: Point, end: Point, inward: complex, width: float) -> Chain:
    """Return the line so far inside another, from the one end of the facing to the other.

    Where an edge that meets the line slants, its end lies aside of where it would be square to it:
    by as much the inner line is shifted there, fading towards its other end.
    """

    def beside(at: float) -> Point:
        return line.point_at(at) + line.tangent_at(at) * inward * width

    length = line.length
    fading = taper(length)
    at_end, at_start = start - beside(length), end - beside(0.0)
    points = [
        beside(at) + fading(length - at)[0] * at_end + fading(at)[0] * at_start
        for at in (length * k / _STATIONS for k in range(_STATIONS - 1, 0, -1))
    ]
    through = [start, *points, end]
    leaving, arriving = _aimed(through[:3]), -_aimed(through[:-4:-1])
    return smooth_line(through, leaving, arriving)


def _aimed(points: Sequence[Point]) -> complex:
    """Return in which direction a line through three points sets out, as their circle does."""
    one, two, three = points
    return 2 * (two - one) / abs(two - one) - (three - one) / abs(three - one)


def _grainline(piece: Piece, drawn: Piece) -> Grainline | None:
    """Return a grainline in the facing, along that of the piece it is cut like."""
    if piece.grainline is None:
        return None
    along = piece.grainline.end - piece.grainline.start
    along /= abs(along)
    inside = drawn.cloth.representative_point()
    place = complex(inside.x, inside.y)
    reach = min(drawn.width_at(place.imag), 30.0) / 3
    return Grainline(place - along * reach, place + along * reach)
