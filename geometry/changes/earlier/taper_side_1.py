"""taper-side, version 1: took a level along the waist of a skirt for one along its hem."""

from trueup.geometry.changes.base import kind
from trueup.geometry.changes.side_and_hem.taper_side import TaperSide


@kind("taper-side")
class FirstTaperSide(TaperSide):
    """Take in the side seam at the waist, the hip or the hem alone, as it was first drawn."""

    waist_on_top = False
