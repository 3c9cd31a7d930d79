"""How a drafted bodice and its sleeve are sewn: the seams, and where lines run on across them."""

from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.draft import Join, Run, Seam
from trueup.geometry.tolerance import SEAM

CAP_EASE_LOW, CAP_EASE_HIGH = 25.0, 45.0

SEAMS = (
    Seam("shoulder-seam", (Run("back", "shoulder"),), (Run("front", "shoulder"),)),
    Seam("side-seam", (Run("front", "side"),), (Run("back", "side"),)),
    Seam(
        "armhole-seam",
        (Run("sleeve", "cap"),),
        (Run("front", "armhole", backwards=True), Run("back", "armhole")),
        Band(CAP_EASE_LOW, CAP_EASE_HIGH, SEAM),
    ),
    Seam(
        "sleeve-seam",
        (Run("sleeve", "back-seam"),),
        (Run("sleeve", "front-seam", backwards=True),),
    ),
)

JOINS = (
    Join(
        "armhole-at-shoulder",
        ("front", "armhole", "shoulder-point"),
        ("back", "armhole", "shoulder-point"),
    ),
    Join("neck-at-shoulder", ("front", "neck", "neck-point"), ("back", "neck", "neck-point")),
    Join("armhole-at-side", ("front", "armhole", "underarm"), ("back", "armhole", "underarm")),
    Join("hem-at-side", ("front", "hem", "hem-side"), ("back", "hem", "hem-side")),
    Join(
        "cap-at-sleeve-seam",
        ("sleeve", "cap", "front-underarm"),
        ("sleeve", "cap", "back-underarm"),
    ),
    Join("hem-at-sleeve-seam", ("sleeve", "hem", "hem-back"), ("sleeve", "hem", "hem-front")),
)
