"""How pieces of the trade are sewn together, by their names: what is proposed where both are there.

The seams of our own drafted blocks have the same names and the same ease.
"""

from trueup.geometry.drafting.bodice.sewn import CAP_EASE_HIGH, CAP_EASE_LOW
from trueup.lineage.drawings.stating.stated import StatedJoin, StatedSeam

SEAMS = (
    StatedSeam("shoulder-seam", ("back.shoulder",), ("front.shoulder",)),
    StatedSeam("side-seam", ("front.side",), ("back.side",)),
    StatedSeam(
        "armhole-seam",
        ("sleeve.cap",),
        ("front.armhole", "back.armhole"),
        CAP_EASE_LOW,
        CAP_EASE_HIGH,
    ),
    StatedSeam("sleeve-seam", ("sleeve.back-seam",), ("sleeve.front-seam",)),
    StatedSeam("skirt-side-seam", ("skirt-front.side",), ("skirt-back.side",)),
    StatedSeam("trouser-side-seam", ("trouser-front.side",), ("trouser-back.side",)),
    StatedSeam("inseam-seam", ("trouser-front.inseam",), ("trouser-back.inseam",)),
)

JOINS = tuple(
    StatedJoin(name, f"{first} at {corner}", f"{second} at {other}")
    for name, first, corner, second, other in (
        ("armhole-at-shoulder", "front.armhole", "shoulder-point", "back.armhole", ""),
        ("neck-at-shoulder", "front.neck", "neck-point", "back.neck", ""),
        ("armhole-at-side", "front.armhole", "underarm", "back.armhole", ""),
        ("hem-at-side", "front.hem", "hem-side", "back.hem", ""),
        ("cap-at-sleeve-seam", "sleeve.cap", "front-underarm", "sleeve.cap", "back-underarm"),
        ("hem-at-sleeve-seam", "sleeve.hem", "hem-back", "sleeve.hem", "hem-front"),
        ("skirt-waist-at-side", "skirt-front.waist", "waist-side", "skirt-back.waist", ""),
        ("skirt-hem-at-side", "skirt-front.hem", "hem-side", "skirt-back.hem", ""),
        ("trouser-waist-at-side", "trouser-front.waist", "waist-side", "trouser-back.waist", ""),
        ("trouser-hem-at-side", "trouser-front.hem", "hem-side", "trouser-back.hem", ""),
        ("trouser-hem-at-inseam", "trouser-front.hem", "hem-inseam", "trouser-back.hem", ""),
        ("crotch-at-inseam", "trouser-front.crotch", "fork", "trouser-back.crotch", ""),
    )
    for other in (other or corner,)
)

LEVELS = {
    "bodice": {"bust": "at underarm", "waist": "along hem"},
    "sleeve": {"biceps": "at front-underarm", "wrist": "along hem"},
    "skirt": {"waist": "along waist"},
    "trouser": {"waist": "along waist", "crotch": "at fork", "hem": "along hem"},
}
"""Levels of the body that follow from the form of a piece."""

EXPECTED_LEVELS = {
    "bodice": ("bust", "waist"),
    "sleeve": ("biceps", "wrist"),
    "skirt": ("waist", "hip"),
    "trouser": ("waist", "hip", "crotch", "knee", "hem"),
}
"""Levels that kinds of change measure from; those that no line shows are asked for."""

ON_FOLD = ("skirt-front",)
"""Pieces below the waist whose straight centre is proposed to lie on the fold."""
