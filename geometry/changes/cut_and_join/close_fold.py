"""close-fold: cut a piece on the fold instead of sewing it together at the centre."""

import math
from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import name
from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.lines.points import cross, dot, unit
from trueup.geometry.measuring.measures import allowance_measure
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Grainline, Piece
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT, SHAPE_GRID
from trueup.geometry.units import Unit


@kind("close-fold")
class CloseFold(Change):
    """Cut a piece on the fold of the cloth, instead of as a pair sewn together along an edge.

    The edge is straight, no dart opens on it, and it is sewn to nothing but the other half: that
    seam is gone then, and so is the allowance of the edge. No line moves; as cloth is folded along
    its threads, the grainline comes to lie along the edge. An edge that bends is drawn straight
    first, with straighten-edge.
    """

    phrases = ("lay the edge on the fold",)

    edge: str = name("edge that comes to lie on the fold, such as back.centre", of="edge")

    def __post_init__(self) -> None:
        if self.side:
            raise BadParameter("side", self.side, said("fold-is-of-both"))

    def carried_out(self, draft: Draft) -> Draft:
        piece_name, edge_name = draft.split_edge_name(self.edge)
        piece = draft.piece(piece_name)
        if piece.fold:
            reason = said("other-on-fold", edge=piece.fold)
            raise DoesNotFit(reason, said("leave-as-is"))
        _require_straight(piece.edge(edge_name))
        place = (piece_name, edge_name)
        sewn = [s for s in draft.seams if place in [(r.piece, r.edge) for r in s.runs]]
        others = [seam.name for seam in sewn if not seam.meets_its_mirror]
        if others:
            raise DoesNotFit(said("sewn-by", seam=others[0]), said("name-another-edge"))
        laid = replace(piece, fold=edge_name, grainline=_along(piece, edge_name))
        folded = allowed(laid, {edge_name: 0.0})
        seams = tuple(seam for seam in draft.seams if seam not in sewn)
        return replace(draft.with_pieces(folded), seams=seams)

    def meant(self, draft: Draft) -> tuple[str, ...]:
        piece, edge = draft.split_edge_name(self.edge)
        measured = dict(draft.piece(piece).allowances).get(edge)
        return (allowance_measure(piece, edge),) if measured else ()

    def in_words(self, unit: Unit) -> str:  # noqa: ARG002
        return f"lay {self.edge} on the fold"


def _along(piece: Piece, edge: str) -> Grainline | None:
    """Return the grainline turned about its middle to lie along an edge, if it does not."""
    grain, line = piece.grainline, piece.edge(edge)
    if grain is None:
        return None
    way, fold = grain.end - grain.start, unit(line.end - line.start)
    if abs(cross(fold, way)) < SAME_POINT:
        return grain
    half = abs(way) / 2 * math.copysign(1.0, dot(fold, way)) * fold
    middle = (grain.start + grain.end) / 2
    return Grainline(middle - half, middle + half)


def _require_straight(edge: Edge) -> None:
    if edge.darts:
        dart = edge.darts[0].name
        raise DoesNotFit(said("dart-on-fold", dart=dart), said("rotate-first"), dart=dart)
    line = closed(edge).chain
    along = unit(line.end - line.start)
    aside = max(abs(cross(along, point - line.start)) for point in line.flattened())
    if aside > SHAPE_GRID:
        raise DoesNotFit(said("fold-is-bent", aside=aside), said("straighten-first"))
