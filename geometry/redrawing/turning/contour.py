"""Close a wedge from an edge to the point a dart aims at, and open that dart by as much."""

from trueup.geometry.errors import BrokenOutline, DoesNotFit
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import cross, unit
from trueup.geometry.lines.polygons import polyline
from trueup.geometry.pieces.closed_line import reshaped
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.darts import room_for_tip
from trueup.geometry.redrawing.trued_dart import faired
from trueup.geometry.redrawing.turning.ring import halves_between
from trueup.geometry.redrawing.turning.wedge import WEDGE, aimed_at, with_mouth
from trueup.geometry.said import said
from trueup.geometry.tolerance import FLATTEN, SAME_LENGTH, SAME_POINT

_STEEPEST = 0.5
"""The wedge lies to its edge at no smaller sine, 30 degrees: beyond it hardly shortens the edge."""

_EASING = 40.0
"""A line is drawn fair over so much to either side, mm, and what its ends lie apart besides."""


def contoured(piece: Piece, dart: str, edge: str, at: float, by: float) -> Piece:
    """Return a piece whose edge is `by` mm shorter, as sewn, what it loses taken in by a dart.

    The wedge lies with its middle a sewn length along the edge and comes to nothing at the dart's
    apex, about which the paper between the two is turned, with all that lies on it. The edge is
    drawn fair where it was closed. Raises DoesNotFit where the wedge would leave the cloth, lie
    along the edge or meet another dart.
    """
    apex = piece.mouth(dart).dart.apex
    place, along = piece.edge(edge).place_at(at)
    across = abs(cross(unit(place - apex), along))
    if across < _STEEPEST:
        raise DoesNotFit(said("fold-aslant"), said("another-place"), edge=edge)
    opened = aimed_at(with_mouth(piece, edge, at, by), edge, apex)
    _require_free(opened, dart, edge)
    cut, wanted = halves_between(opened, WEDGE, dart), piece.edge(edge).length - by

    def closed(share: float) -> Piece:
        return _eased(cut.pivoted(share), edge, at - by / 2, wanted)

    def longer(share: float) -> float:
        return closed(share).edge(edge).length - wanted

    try:
        # Turned square to the edge it loses just what is folded out; aslant, more has to turn.
        share = root_between(longer, 0.0, 2.0 / across**2, SAME_LENGTH)
        if share is None:
            raise DoesNotFit(said("fold-aslant"), said("another-place"), edge=edge)
        changed = closed(share)
    except BrokenOutline as broken:
        raise DoesNotFit(broken.reason, said("another-place"), edge=edge) from broken
    turned = changed.mouth(dart)
    if turned.dart.setback > room_for_tip(turned):
        raise DoesNotFit(said("mouth-at-tip"), said("tip-back-first"), dart=dart)
    return changed


def _eased(piece: Piece, name: str, at: float, paper: float) -> Piece:
    """Return the piece with an edge drawn fair where its two papers, in all so long, lie apart."""
    edge = piece.edge(name)
    apart = max(edge.length - paper, 0.0)

    def fair(line: Chain) -> Chain:
        low, high = at - _EASING - apart, at + _EASING + 2 * apart
        near = line.between(max(low, 0.0), at), line.between(at + apart, min(high, line.length))
        runs = [faired(*near, None)]
        if low > SAME_POINT:
            runs.insert(0, line.between(0.0, low))
        if high < line.length - SAME_POINT:
            runs.append(line.between(high, line.length))
        return Chain.joining(runs)

    return piece.with_edges(reshaped(edge, fair))


def _require_free(piece: Piece, dart: str, edge: str) -> None:
    wedge = piece.mouth(WEDGE)
    for point in (wedge.first, wedge.second):
        leg = polyline((wedge.dart.apex, point))
        for other in piece.edges:
            for mouth in other.mouths:
                legs = polyline((mouth.first, mouth.tip, mouth.second))
                if mouth.dart.name not in (dart, WEDGE) and legs.crosses(leg):
                    reason = said("crosses-dart", dart=f"{piece.name}.{mouth.dart.name}")
                    raise DoesNotFit(reason, said("another-place"), edge=edge)
        if not piece.cloth.buffer(2 * FLATTEN).covers(leg):
            raise DoesNotFit(said("wedge-leaves-cloth"), said("another-place"), edge=edge)
