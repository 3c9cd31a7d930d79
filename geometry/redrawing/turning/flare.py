"""Close a dart, or a share of it, and let what it took in open at the hem, as flare."""

from dataclasses import replace

from trueup.geometry.errors import BrokenOutline, DoesNotFit
from trueup.geometry.lines.points import Motion
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.move_corner import meeting
from trueup.geometry.redrawing.turning.ring import Halves, halves
from trueup.geometry.redrawing.turning.spread_line import spread_line
from trueup.geometry.said import said
from trueup.geometry.tolerance import CLOTH_LEFT

HEM = "hem"
_OPENED = "opened-at-the-hem"


def flared_from(piece: Piece, dart: str, share: float, at: Position | None) -> Piece:
    """Return a piece with a share of a dart's angle turned to its hem and left open there.

    The paper is slashed from the dart's pivot to a place on the hem, straight down unless one is
    given, and turned about the pivot; the half that holds the centre stays. The hem is drawn fair
    from the middle of the one half to that of the other. Raises DoesNotFit where a dart opens on
    the hem or lies in the way, and where the slash leaves the cloth.
    """
    hem = piece.edge(HEM)
    if hem.darts:
        reason = said("dart-on-hem", dart=hem.darts[0].name)
        raise DoesNotFit(reason, said("dart-off-hem"), edge=HEM, dart=hem.darts[0].name)
    station = _below(piece, dart, hem) if at is None else at.along(hem)
    if not CLOTH_LEFT <= station <= hem.length - CLOTH_LEFT:
        raise DoesNotFit(said("flare-at-corner", dart=dart), said("another-place"), edge=HEM)
    cut = halves(piece, dart, HEM, 0, station)
    _require_free(cut, dart)
    try:
        turned = _turned(cut, share)
    except BrokenOutline as broken:
        raise DoesNotFit(broken.reason, said("another-place"), edge=HEM) from broken
    drawn = replace(hem, parts=(spread_line(hem.parts[0], [station], _motions(cut, share)),))
    before, after = turned.neighbours(HEM)
    return turned.with_edges(meeting(drawn, before.end, after.start))


def _below(piece: Piece, dart: str, hem: Edge) -> float:
    """Return the length along the hem straight below the pivot of a dart."""
    apex = piece.mouth(dart).dart.apex
    line = hem.parts[0]
    met = [at for at in line.crossings(apex, 1j) if line.point_at(at).imag > apex.imag]
    if not met:
        raise DoesNotFit(said("hem-not-below", dart=dart), said("give-hem-place"), edge=HEM)
    return min(met, key=lambda at: line.point_at(at).imag)


def _require_free(cut: Halves, dart: str) -> None:
    if cut.darts_crossed:
        crossed = cut.darts_crossed[0]
        reason = said("flare-through-dart", dart=dart, other=crossed)
        raise DoesNotFit(reason, said("dart-out-of-the-way"), edge=dart, dart=crossed)
    if not cut.cut_lies_in_cloth:
        reason = said("flare-leaves-cloth", dart=dart)
        raise DoesNotFit(reason, said("place-in-sight"), edge=dart)


def _turned(cut: Halves, share: float) -> Piece:
    """Return the piece with the dart closed by a share; its hem is not drawn yet."""
    if share >= 1:
        return cut.pivoted()
    return cut.shared(share, replace(cut.mouth.dart, name=_OPENED))


def _motions(cut: Halves, share: float) -> tuple[Motion, Motion]:
    """Return how the hem before the slash is moved, and how beyond it."""
    apex, angle = cut.mouth.dart.apex, cut.mouth.angle * share
    if cut.outward_turns:
        return Motion.turn(apex, angle), Motion()
    return Motion(), Motion.turn(apex, -angle)
