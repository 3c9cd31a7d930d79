"""What moved since another version: the cloth between the old piece and the new. In mm."""

import shapely

from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.comparing.laying import laid
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.tolerance import UNCHANGED


def between(old: Piece, new: Piece) -> shapely.Geometry:
    """Return the cloth that one of two pieces has and the other has not, where the new one lies.

    The old is laid on the new with fold on fold and grain parallel. Both outlines count, the one
    to sew and the one to cut. Strips narrower than twice `tolerance.UNCHANGED` did not move.
    """
    if old is new:
        return shapely.Polygon()
    below = laid(old, new)
    moved = shapely.union(
        cutting_line(below).symmetric_difference(cutting_line(new)),
        below.cloth.symmetric_difference(new.cloth),
    )
    return moved.buffer(-UNCHANGED, join_style="mitre").buffer(UNCHANGED, join_style="mitre")
