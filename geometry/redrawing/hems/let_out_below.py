"""Let out an edge from a place on down to the hem, the more the lower: flare in a seam."""

from dataclasses import replace

from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines import fade
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.lines.points import dot
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.drawn_on import reversed_edge
from trueup.geometry.redrawing.hems.hem import at_hem
from trueup.geometry.redrawing.hems.hem_met import hem_met
from trueup.geometry.redrawing.move_corner import end_cut, start_cut
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_LENGTH, SHORTEST_LEFT

HEM = "hem"

_BENT = 0.5
"""The share of the way down to the hem in which a line bends outwards; below, it runs on as it
did, only aslant (common practice, no source)."""

_STEPS = 6
_MOST = 3.0


def hem_corner(piece: Piece, edge: str) -> str:
    """Return the corner at which an edge comes to the hem of its piece.

    Raises NoSuchName for the edge, DoesNotFit where it lies on the fold or comes to no hem.
    """
    own = piece.edge(edge)
    if edge == piece.fold:
        raise DoesNotFit(said("on-fold"), said("name-another-edge"), piece=piece.name, edge=edge)
    before, after = piece.neighbours(edge)
    if after.name == HEM != edge:
        return own.ends_at
    if before.name == HEM != edge:
        return own.starts_at
    place = f"{piece.name}.{edge}"
    raise DoesNotFit(
        said("comes-to-no-hem", place=place), said("name-another-edge"), piece=piece.name, edge=edge
    )


def let_out_below(piece: Piece, edge: str, reach: float, by: float) -> Piece:
    """Return a piece with an edge let out by an amount (mm) at the hem, in if that is negative.

    It leaves its old line so far above the hem, bends away over the upper half of the way and runs
    on from there; at the hem it lies square to its old end by the amount. It keeps its length: what
    it would grow by is cut off at the hem, which is drawn up to it at the angle it had. Raises
    DoesNotFit where it comes to no hem, is shorter than that, or has a dart there.
    """
    down = hem_corner(piece, edge) == piece.edge(edge).ends_at
    old = piece.edge(edge) if down else reversed_edge(piece.edge(edge))
    require_room(piece, edge, reach)
    outward = old.parts[-1].end_tangent * -piece.inward * (1 if down else -1)

    def lacking(moved: float) -> float:
        return dot(_drawn(old, outward * moved, reach).end - old.end, outward) - by

    # What is cut off at the hem lies aslant, and takes a little of the amount with it.
    moved = root_between(lacking, by, _MOST * by, SAME_LENGTH)
    if moved is None:
        raise DoesNotFit(
            said("flares-too-fast", reach=reach), said("higher-place"), piece=piece.name, edge=edge
        )
    # A seam that goes in at the waist and out over the hip bends once more: that is meant.
    drawn = replace(_drawn(old, outward * moved, reach), shaped=old.shaped or by > 0)
    return _with_hem(piece, old, drawn, down=down)


def require_room(piece: Piece, edge: str, reach: float) -> None:
    """Raise DoesNotFit where an edge, or what of it lies below its darts, does not reach so far up.

    `reach` is mm above the hem; raises as `hem_corner`, too.
    """
    own = piece.edge(edge)
    old = own if hem_corner(piece, edge) == own.ends_at else reversed_edge(own)
    length = old.parts[-1].length
    if reach <= length - SHORTEST_LEFT:
        return
    dart = old.darts[-1].name if old.darts else None
    reason = said("flare-above-dart", dart=dart) if dart else said("flare-above-edge", left=length)
    raise DoesNotFit(reason, said("lower-place"), piece=piece.name, edge=edge, dart=dart)


def _drawn(old: Edge, shift: complex, reach: float) -> Edge:
    line = closed(old)
    total = line.chain.length
    start = total - reach
    stations = [start + _BENT * reach * k / _STEPS for k in range(_STEPS + 1)]
    stations += [start + reach * (_BENT + (1 - _BENT) * k / _STEPS) for k in range(1, _STEPS)]
    beside = line.motions[-1].rotation * shift
    chain = fade.shifted(line.chain.cut_at(stations), beside, _leaving(start, total))
    opened = line.opened(chain)
    return end_cut(opened, opened.length - old.length)


def _leaving(start: float, end: float) -> fade.Weight:
    """Return the weight of a line that bends evenly away from its old one, then runs straight."""
    whole = 1 - _BENT / 2

    def weight(at: float) -> tuple[float, float]:
        s = max(at - start, 0.0) / (end - start)
        if s < _BENT:
            return s * s / (2 * _BENT) / whole, s / _BENT / whole / (end - start)
        return (s - _BENT / 2) / whole, 1 / whole / (end - start)

    return weight


def _with_hem(piece: Piece, old: Edge, drawn: Edge, *, down: bool) -> Piece:
    hem = piece.edge(HEM) if down else reversed_edge(piece.edge(HEM))
    turned = drawn.parts[-1].end_tangent / old.parts[-1].end_tangent
    along = hem.parts[0].start_tangent
    beside = start_cut(hem, dot(drawn.end - hem.start, along))
    lower = hem_met(beside, drawn.end, along * turned)
    edges = (drawn, lower) if down else (reversed_edge(drawn), reversed_edge(lower))
    return at_hem(piece.with_edges(*edges))
