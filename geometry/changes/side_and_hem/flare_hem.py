"""flare-hem: slash a piece from its hem and spread it, so that the hem becomes wider."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.earlier.flare_hem_1 import FirstFlareHem
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.turning.strips import strips, with_levels_at_ends


@kind("flare-hem", version=2)
class FlareHem(FirstFlareHem):
    """Slash a piece from its hem and spread the strips, so that the hem becomes wider by an amount.

    The slashes part the hem evenly and run straight up to the edge above, where the cloth stays
    whole: each strip is turned about that point, and all open by the same amount. The hem is drawn
    evenly from strip to strip, keeps the shape it had, and becomes longer by exactly the amount.
    Every other edge keeps its sewn length, to a fifth of a millimetre where a strip was turned on
    it and it is rounded there. The corners keep their angles.

    The strip at the centre stays on the table, on a sleeve the one with the grainline. The level of
    the biceps goes along with the lower of the underarm points. A slash that
    would run through a dart is refused: turn, release or shorten that first. Flare from a dart is
    made by turning it to the hem and releasing it. Named alone, a sleeve becomes a bell, the lower
    part of a piece that was cut apart a flounce; a piece that was cut down to its hem is flared by
    its parts.
    """

    def on(self, piece: Piece, by: float) -> Piece:
        flared = strips(piece, int(self.slashes)).spread(by)
        return with_levels_at_ends(piece, flared)
