"""lengthen: lower the hem of a bodice or a sleeve, or raise it again."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.earlier.lengthen_2 import SecondLengthen
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.points import degrees_between
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.hems.hem import ends_at_waist
from trueup.geometry.redrawing.hems.hem_shape import HemShape, shaped_hem
from trueup.geometry.redrawing.hems.leg import INSEAM
from trueup.geometry.said import said

_ASLANT_DEGREES = 20.0
"""A side that comes down to the hem more aslant than this is that of a flared piece."""


@kind("lengthen", version=3)
class Lengthen(SecondLengthen):
    """Lower the hem of the bodice, of its front or back alone, or of the sleeve, straight down.

    Side and centre are drawn on; a bend at the old hem is rounded, so that a side seam keeps a
    natural waist. Waist darts that opened on the hem become double-pointed: they end 130 mm below
    the waist, or 6 mm short of the hem of a shorter piece. A hip level is added 200 mm below the
    waist (both common practice, no source). `flare` moves the hem out at the side besides.

    Where the side comes down more than 20 degrees aslant, as that of a circle skirt, side and
    centre are drawn on, or cut, along themselves, so that the piece is longer by as much all along
    its hem. The seams of a trouser leg run straight on, too, and its hem keeps its shape.

    A negative amount shortens a sleeve, a trouser leg, or a piece lengthened before, by cutting the
    cloth off.
    """

    def bodice(self, piece: Piece, by: float) -> Piece:
        if not _comes_aslant(piece):
            return super().bodice(piece, by)
        if self.flare:
            raise DoesNotFit(said("aslant-and-flared"), said("flare-otherwise"), edge="hem")
        return shaped_hem(piece, by, by, HemShape(across=False))


def _comes_aslant(piece: Piece) -> bool:
    if INSEAM in piece.edge_names or ends_at_waist(piece):
        return False
    return degrees_between(piece.edge("side").parts[-1].end_tangent, 1j) > _ASLANT_DEGREES
