"""What the layers of ASTM D6673 say that their lines are.

The numbers of the layers are from memory, as those our own export writes; published descriptions
of the format list the same.
"""

from trueup.lineage.drawings.shapes.shape import Told

BOUNDARY, TURN_POINTS, CURVE_POINTS, TEXT = "1", "2", "3", "15"

TOLD = {
    BOUNDARY: Told.BOUNDARY,
    "4": Told.NOTCH,
    "6": Told.MIRROR,
    "7": Told.GRAIN,
    "8": Told.INTERNAL,
    "13": Told.DRILL,
    "14": Told.SEW,
}
"""By the names of the layers of lines and points; texts stand on a layer of their own."""
